import { basename, resolve } from 'node:path';
import { Problem } from '../../core/problem/problem.ts';
import { FileBeingWritten } from './fileBeingWritten.ts';

/** A file that was written. */
export interface Written {
  file: string;
  /** Of its bytes, in hex. */
  sha256: string;
}

const MOST_COPIES = 1000;
/** Bytes of a name in UTF-8: with what is put behind it no more than the 255 that file systems take. */
const LONGEST_NAME = 160;

/**
 * Writes a new CSV file into a folder, whole or not at all, under the next name that is free: nobody is asked for one.
 * The second copy of `lot-7` is `lot-7-2.csv`.
 * @throws problems of `writeWhole`
 */
export async function writeUnderFreeName(folder: string, name: string, bytes: Uint8Array): Promise<Written> {
  const written = await FileBeingWritten.begin(folder);
  try {
    written.put(bytes);
    const sha256 = await written.finish();
    return { file: await firstFree(folder, name, (file) => written.name(file)), sha256 };
  } finally {
    await written.end();
  }
}

/**
 * Does something with the next name that is free; returns it.
 * @param take takes the name, or throws certificate-exists @param first the copy to begin with, where those before it are there
 */
export async function firstFree(
  folder: string,
  name: string,
  take: (file: string) => Promise<void>,
  first = 1,
): Promise<string> {
  for (let copy = first; ; copy++) {
    const file = resolve(folder, `${name}${copy === 1 ? '' : `-${copy}`}.csv`);
    try {
      await take(file);
      return file;
    } catch (thrown) {
      if (!(thrown instanceof Problem && thrown.code === 'certificate-exists') || copy > MOST_COPIES) throw thrown;
    }
  }
}

/**
 * Names a finished file, and what lies beside it: both or none.
 * @param besideOf what lies beside a file of this name, and how its own name ends @throws problems certificate-exists, certificate-unwritable
 */
export async function nameWithBeside(
  written: FileBeingWritten,
  file: string,
  { ends, textFor }: { ends: string; textFor: (name: string) => string },
): Promise<void> {
  const beside = await FileBeingWritten.begin(resolve(file, '..'));
  try {
    beside.put(Buffer.from(textFor(basename(file))));
    await beside.finish();
    await written.name(file);
    try {
      await beside.name(`${file}${ends}`);
    } catch (thrown) {
      await written.unname(file);
      throw thrown;
    }
  } finally {
    await beside.end();
  }
}

/** What somebody typed, as a part of a file name that is safe on every system; `otherwise` where nothing is left of it. */
export function nameSafely(typed: string, otherwise: string): string {
  const safe = typed.replace(/[^\p{L}\p{N}._-]+/gu, '_').replace(/^[._]+|[._]+$/g, '');
  return shortened(safe) || otherwise;
}

/** By whole characters: half of one has no name in UTF-8. */
function shortened(text: string): string {
  let short = '';
  let bytes = 0;
  for (const character of text) {
    bytes += Buffer.byteLength(character);
    if (bytes > LONGEST_NAME) break;
    short += character;
  }
  return short;
}
