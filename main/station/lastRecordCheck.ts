import { join } from 'node:path';
import * as z from 'zod';
import type { RecordFacts } from '../../core/contract/contract.ts';
import { changeJsonFile, readJsonFile } from './jsonFile.ts';

const lastRecordCheck = z
  .object({
    at: z.string(),
    entries: z.number().int().nonnegative(),
    problem: z.object({ code: z.string(), what: z.string(), toDo: z.string() }).nullable(),
  })
  .nullable();

const fileIn = (folder: string): string => join(folder, 'record-check.json');

/** How the record was found when it was last checked whole; null where that was never done, or is not known any more. */
export async function readLastRecordCheck(folder: string): Promise<RecordFacts['lastCheck']> {
  // What is told is never worth more than the record: where the file cannot be read it is checked once more.
  const found = await readJsonFile(fileIn(folder), lastRecordCheck, null).catch(() => null);
  return found as RecordFacts['lastCheck'];
}

/** Keeps how the record was found. @throws problem file-unwritable */
export function keepLastRecordCheck(folder: string, found: NonNullable<RecordFacts['lastCheck']>): Promise<void> {
  return changeJsonFile(fileIn(folder), lastRecordCheck.catch(null), null, () => found);
}
