import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { parse } from 'csv-parse/sync';

const folder = process.env.REELOHM_SHARED ?? resolve(import.meta.dirname, '../../../../shared');

/** Rows of a shared check table by column; null where the folder is absent, which is said aloud. */
export function sharedTable(name: string): Record<string, string>[] | null {
  const file = resolve(folder, 'data', name);
  if (!existsSync(file)) {
    console.warn(
      `NOT CHECKED against ${name}: there is no shared folder beside the repository and REELOHM_SHARED names none`,
    );
    return null;
  }
  return parse(readFileSync(file, 'utf8'), { columns: true });
}
