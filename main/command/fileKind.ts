import type { FileBytes } from '../../core/certificate/fileBytes.ts';

/** What the files are that this program writes. */
export type FileKind = 'certificate' | 'study' | 'stress' | 'continuity';

const KINDS: readonly FileKind[] = ['certificate', 'study', 'stress', 'continuity'];

/** Longer than any row of names of columns. */
const BEGINNING = 2000;

/** What a file is by its first row below the header; null where it is none of ours. */
export function fileKind(file: FileBytes): FileKind | null {
  const [, first = ''] = new TextDecoder().decode(file.slice(0, Math.min(file.size, BEGINNING))).split('\n');
  const [kind, item] = first.split(/[,;]/);
  const found = KINDS.find((one) => one === kind);
  return item === 'format' && found !== undefined ? found : null;
}
