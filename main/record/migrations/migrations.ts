import type { Migration } from './migration.ts';
import { toVersion1 } from './toVersion1.ts';
import { toVersion2 } from './toVersion2.ts';
import { toVersion3 } from './toVersion3.ts';

/** All steps of the tables of a record, in order. A step that exists is never changed: files that were made by it are out there. */
export const migrations: readonly Migration[] = [toVersion1, toVersion2, toVersion3];
