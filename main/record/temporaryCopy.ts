import { randomBytes } from 'node:crypto';
import { mkdir, open, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';

/**
 * Makes a file under a temporary name beside the one it shall have, and hands it over when it is on the disk; whatever comes
 * of it, the temporary name is gone after.
 * @param make writes the temporary file @param name gives it its name
 * @throws problems of both; file-unwritable for errors of the file system and of SQLite
 */
export async function asTemporary<T>(
  file: string,
  { make, name }: { make: (temporary: string) => Promise<T>; name: (temporary: string) => Promise<void> },
): Promise<T> {
  const temporary = join(dirname(file), `.${basename(file)}.${randomBytes(6).toString('hex')}.part`);
  try {
    await mkdir(dirname(file), { recursive: true });
    const made = await make(temporary);
    await toDisk(temporary);
    await name(temporary);
    return made;
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    throw problem('file-unwritable', file, wordsOf(thrown));
  } finally {
    for (const each of ['', '-journal', '-wal', '-shm']) await unlink(temporary + each).catch(() => undefined);
  }
}

async function toDisk(file: string): Promise<void> {
  const handle = await open(file, 'r+');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
