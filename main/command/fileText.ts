import { readFile } from 'node:fs/promises';
import { problem, wordsOf } from '../../core/problem/problem.ts';

/** All bytes of a file. @throws problem file-unreadable */
export async function fileBytes(file: string): Promise<Uint8Array> {
  try {
    return await readFile(file);
  } catch (thrown) {
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}

/** The text of a UTF-8 file, without byte order mark. @throws problem file-unreadable, also where it is no UTF-8 */
export async function fileText(file: string): Promise<string> {
  const bytes = await fileBytes(file);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw problem('file-unreadable', file, 'it is not text in UTF-8');
  }
}
