import { closeSync, fstatSync, openSync, readFileSync, readSync } from 'node:fs';
import { BLOCK, type FileBytes, inMemory } from '../../core/certificate/fileBytes.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { sha256OfNode } from './sha256OfNode.ts';

/**
 * Does something with the bytes of a file, which are read when they are asked for: a file of any length takes no more memory.
 * @throws problem file-unreadable, also where it becomes shorter meanwhile
 */
export function withFileOnDisk<T>(file: string, use: (bytes: FileBytes) => T): T {
  const handle = reading(file, () => openSync(file, 'r'));
  try {
    const { size, isFile } = reading(file, () => {
      const facts = fstatSync(handle);
      return { size: facts.size, isFile: facts.isFile() };
    });
    // A pipe has no size and is read once.
    if (!isFile) return use(inMemory(reading(file, () => readFileSync(handle))));
    const block = new Uint8Array(BLOCK);
    const slice = (from: number, to: number) => reading(file, () => bytesAt(handle, from, to, block));
    return use({ size, slice, sha256: sha256OfNode });
  } finally {
    closeSync(handle);
  }
}

/** @param block is read into again and again, where it is long enough: else a long file leaves its whole length to be collected */
function bytesAt(handle: number, from: number, to: number, block: Uint8Array): Uint8Array {
  const bytes = to - from > block.length ? new Uint8Array(to - from) : block.subarray(0, to - from);
  for (let done = 0; done < bytes.length; ) {
    const count = readSync(handle, bytes, done, bytes.length - done, from + done);
    if (count === 0) throw new Error('it became shorter while it was read');
    done += count;
  }
  return bytes;
}

function reading<T>(file: string, read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}
