import { randomBytes, webcrypto } from 'node:crypto';
import { link, mkdir, open, rename, unlink } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';

/**
 * Writes a new file whole or not at all: into a temporary neighbour, to the disk, then linked to its name, which fails
 * where the name is taken. Returns the SHA-256 (hex) of its bytes.
 * @throws problems certificate-exists, certificate-unwritable
 */
export async function writeWhole(file: string, bytes: Uint8Array): Promise<string> {
  const temporary = join(dirname(file), `.${randomBytes(8).toString('hex')}.part`);
  try {
    await mkdir(dirname(file), { recursive: true });
    const handle = await open(temporary, 'wx');
    try {
      await handle.writeFile(bytes);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await name(temporary, file);
    await syncFolder(dirname(file));
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    throw problem('certificate-unwritable', file, wordsOf(thrown));
  } finally {
    await unlink(temporary).catch(() => undefined);
  }
  // In the thread pool: a large file holds up nothing else.
  return Buffer.from(await webcrypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>)).toString('hex');
}

/** Gives the temporary file its name. @throws problem certificate-exists where the name is taken */
async function name(temporary: string, file: string): Promise<void> {
  try {
    await link(temporary, file);
  } catch (thrown) {
    if (codeOf(thrown) === 'EEXIST') throw problem('certificate-exists', file);
    if (!['EPERM', 'ENOTSUP', 'ENOSYS', 'EOPNOTSUPP'].includes(codeOf(thrown) ?? '')) throw thrown;
    await nameWithoutLink(temporary, file);
  }
}

/** For a file system without hard links (FAT): reserves the name, then replaces the empty file. */
async function nameWithoutLink(temporary: string, file: string): Promise<void> {
  try {
    await (await open(file, 'wx')).close();
  } catch (thrown) {
    throw codeOf(thrown) === 'EEXIST' ? problem('certificate-exists', file) : thrown;
  }
  await rename(temporary, file);
}

/** Makes the new name itself durable. Windows has no such call for folders and needs none. */
async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
