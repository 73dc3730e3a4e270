import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { BLOCK, type FileBytes, inMemory } from '../../core/certificate/fileBytes.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { sha256OfNode } from './sha256OfNode.ts';

/** Far more than the certificate of a million readings. */
const LONGEST_PIPE = 268_435_456;

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
    if (!isFile) return use(inMemory(reading(file, () => bytesOfPipe(handle))));
    const block = new Uint8Array(BLOCK);
    const slice = (from: number, to: number) => reading(file, () => bytesAt(handle, from, to, block));
    return use({ size, slice, sha256: sha256OfNode });
  } finally {
    closeSync(handle);
  }
}

function bytesOfPipe(handle: number): Uint8Array {
  const blocks: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const block = new Uint8Array(BLOCK);
    const count = readSync(handle, block);
    if (count === 0) return Buffer.concat(blocks);
    blocks.push(block.subarray(0, count));
    size += count;
    if (size > LONGEST_PIPE) throw new Error(`it is no file, and has no end within ${LONGEST_PIPE} bytes`);
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
