import { resolve } from 'node:path';
import { Problem } from '../../core/problem/problem.ts';
import { writeWhole } from './writeWhole.ts';

/** A file that was written. */
export interface Written {
  file: string;
  /** Of its bytes, in hex. */
  sha256: string;
}

const MOST_COPIES = 1000;
const LONGEST_NAME = 80;

/**
 * Writes a new CSV file into a folder, whole or not at all, under the next name that is free: nobody is asked for one.
 * The second copy of `lot-7` is `lot-7-2.csv`.
 * @param first the copy to begin with, where it is known that the ones before it are there
 * @throws problems of `writeWhole`
 */
export async function writeUnderFreeName(folder: string, name: string, bytes: Uint8Array, first = 1): Promise<Written> {
  for (let copy = first; ; copy++) {
    const file = resolve(folder, `${name}${copy === 1 ? '' : `-${copy}`}.csv`);
    try {
      return { file, sha256: await writeWhole(file, bytes) };
    } catch (thrown) {
      if (!(thrown instanceof Problem && thrown.code === 'certificate-exists') || copy > MOST_COPIES) throw thrown;
    }
  }
}

/** What somebody typed, as a part of a file name that is safe on every system; `otherwise` where nothing is left of it. */
export function nameSafely(typed: string, otherwise: string): string {
  const safe = typed.replace(/[^\p{L}\p{N}._-]+/gu, '_').replace(/^[._]+|[._]+$/g, '');
  return safe.slice(0, LONGEST_NAME) || otherwise;
}
