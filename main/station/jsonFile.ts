import { readFile } from 'node:fs/promises';
import writeFileAtomic from 'write-file-atomic';
import type * as z from 'zod';
import { checked } from '../../core/contract/invalid.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';

/**
 * Reads a JSON file of the data folder; `empty` where there is none.
 * @throws problems file-unreadable, input-invalid naming the file and the field
 */
export async function readJsonFile<T>(file: string, schema: z.ZodType<T>, empty: T): Promise<T> {
  let value: unknown;
  try {
    value = JSON.parse(await readFile(file, 'utf8'));
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return empty;
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
  return checked(file, schema, value);
}

/** The change of each file that was asked for last. */
const changes = new Map<string, Promise<void>>();

/**
 * Changes a JSON file of the data folder, one change after the other, so that none undoes another. A file that cannot be
 * read is not overwritten.
 * @throws problems of `readJsonFile`, file-unwritable
 */
export function changeJsonFile<T>(
  file: string,
  schema: z.ZodType<T>,
  empty: T,
  change: (value: T) => T,
): Promise<void> {
  const before = changes.get(file) ?? Promise.resolve();
  const changed = before
    .catch(() => undefined)
    .then(async () => writeJsonFile(file, change(await readJsonFile(file, schema, empty))));
  changes.set(file, changed);
  return changed;
}

/** Writes a JSON file whole, in place of what was there. */
async function writeJsonFile(file: string, value: unknown): Promise<void> {
  try {
    await writeFileAtomic(file, `${JSON.stringify(value, null, 2)}\n`);
  } catch (thrown) {
    throw problem('file-unwritable', file, wordsOf(thrown));
  }
}
