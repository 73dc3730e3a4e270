/** What the files are that this program writes. */
export type FileKind = 'certificate' | 'study' | 'stress';

/** Longer than any row of names of columns. */
const BEGINNING = 2000;

/** What a file is by its first row below the header; null where it is none of ours. */
export function fileKind(bytes: Uint8Array): FileKind | null {
  const [, first = ''] = new TextDecoder().decode(bytes.subarray(0, BEGINNING)).split('\n');
  const [kind, item] = first.split(',');
  return item === 'format' && (kind === 'certificate' || kind === 'study' || kind === 'stress') ? kind : null;
}
