import { createHash, randomBytes } from 'node:crypto';
import { type FileHandle, link, mkdir, open, rename, rm, unlink } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';

/**
 * A new file that is there whole or not at all: written piece by piece into a temporary neighbour, brought to the disk, then linked
 * to its name, which fails where the name is taken.
 */
export class FileBeingWritten {
  readonly #temporary: string;
  readonly #handle: FileHandle;
  readonly #hash = createHash('sha256');
  #writing: Promise<unknown> = Promise.resolve();

  private constructor(temporary: string, handle: FileHandle) {
    this.#temporary = temporary;
    this.#handle = handle;
  }

  /** @param folder where it is to be; made where it is missing @throws problem certificate-unwritable */
  static async begin(folder: string): Promise<FileBeingWritten> {
    const temporary = join(folder, `.${randomBytes(8).toString('hex')}.part`);
    return writing(folder, async () => {
      await mkdir(folder, { recursive: true });
      return new FileBeingWritten(temporary, await open(temporary, 'wx'));
    });
  }

  /** Puts bytes behind those before; does not wait for the disk. What goes wrong is told by `finish`. */
  put(bytes: Uint8Array): void {
    this.#hash.update(bytes);
    this.#writing = this.#writing.then(() => this.#handle.writeFile(bytes));
    // Told by whoever waits for all of it.
    this.#writing.catch(() => undefined);
  }

  /** All of it is on the disk then. Returns the SHA-256 (hex) of its bytes. @throws problem certificate-unwritable */
  async finish(): Promise<string> {
    return writing(this.#temporary, async () => {
      await this.#writing;
      await this.#handle.sync();
      await this.#handle.close();
      return this.#hash.digest('hex');
    });
  }

  /** Gives the finished file its name. @throws problems certificate-exists where the name is taken, certificate-unwritable */
  async name(file: string): Promise<void> {
    await writing(file, async () => {
      if (!(await giveName(this.#temporary, file))) throw problem('certificate-exists', file);
    });
  }

  /** Takes its name from it again, so that it can be given another. @throws errors of the file system */
  async unname(file: string): Promise<void> {
    // Of two names of one file a rename leaves both; where there are no links, the file must go back.
    await rename(file, this.#temporary);
    await rm(file, { force: true });
  }

  /** Leaves nothing but the file that was named. */
  async end(): Promise<void> {
    await this.#writing.catch(() => undefined);
    await this.#handle.close().catch(() => undefined);
    await unlink(this.#temporary).catch(() => undefined);
  }
}

/** What the system refuses is told as a problem with this file. */
async function writing<T>(file: string, write: () => Promise<T>): Promise<T> {
  try {
    return await write();
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    throw problem('certificate-unwritable', file, wordsOf(thrown));
  }
}

/**
 * Gives a temporary neighbour its name, durably; the temporary name may be left, to be unlinked. False where the name is taken:
 * then nothing was changed. @throws errors of the file system
 */
export async function giveName(temporary: string, file: string): Promise<boolean> {
  try {
    await link(temporary, file);
  } catch (thrown) {
    if (codeOf(thrown) === 'EEXIST') return false;
    if (!['EPERM', 'ENOTSUP', 'ENOSYS', 'EOPNOTSUPP'].includes(codeOf(thrown) ?? '')) throw thrown;
    if (!(await nameWithoutLink(temporary, file))) return false;
  }
  await syncFolder(dirname(file));
  return true;
}

/** For a file system without hard links (FAT): reserves the name, then replaces the empty file. False where the name is taken. */
async function nameWithoutLink(temporary: string, file: string): Promise<boolean> {
  try {
    await (await open(file, 'wx')).close();
  } catch (thrown) {
    if (codeOf(thrown) === 'EEXIST') return false;
    throw thrown;
  }
  try {
    await rename(temporary, file);
  } catch (thrown) {
    await unlink(file);
    throw thrown;
  }
  return true;
}

/** Makes the new name itself durable. Windows has no such call for folders and needs none. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
