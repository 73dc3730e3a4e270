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

/** Writes a JSON file whole, in place of what was there. @throws problem file-unwritable */
export async function writeJsonFile(file: string, value: unknown): Promise<void> {
  try {
    await writeFileAtomic(file, `${JSON.stringify(value, null, 2)}\n`);
  } catch (thrown) {
    throw problem('file-unwritable', file, wordsOf(thrown));
  }
}
