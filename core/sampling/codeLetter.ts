import { problem } from '../problem/problem.ts';

/** Inspection levels of MIL-STD-105E Table I: the special levels for small samples, then the general ones. II is usual. */
export const LEVELS = ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] as const;
export type Level = (typeof LEVELS)[number];

/** Sample size code letters in order, I and O left out (MIL-STD-105E Table II-A). */
export const CODE_LETTERS = 'ABCDEFGHJKLMNPQR';

/** MIL-STD-105E (10 May 1989), Table I: the largest lot of each row, and a letter for each level in the order of LEVELS. */
const TABLE_I: readonly (readonly [upTo: number, letters: string])[] = [
  [8, 'AAAAAAB'],
  [15, 'AAAAABC'],
  [25, 'AABBBCD'],
  [50, 'ABBCCDE'],
  [90, 'BBCCCEF'],
  [150, 'BBCDDFG'],
  [280, 'BCDEEGH'],
  [500, 'BCDEFHJ'],
  [1200, 'CCEFGJK'],
  [3200, 'CDEGHKL'],
  [10000, 'CDFGJLM'],
  [35000, 'CDFHKMN'],
  [150000, 'DEGJLNP'],
  [500000, 'DEGJMPQ'],
  [Number.POSITIVE_INFINITY, 'DEHKNQR'],
];

/**
 * Sample size code letter for a lot at an inspection level (MIL-STD-105E, Table I).
 * The table begins at 2 pieces; a lot of one piece is read in its first row and inspected whole.
 * @param lotSize pieces, a whole number from 1 up
 * @throws problems lot-empty, level-unknown
 */
export function codeLetter(lotSize: number, level: string): string {
  if (!Number.isSafeInteger(lotSize) || lotSize < 1) throw problem('lot-empty', String(lotSize));
  const column = LEVELS.indexOf(level as Level);
  if (column < 0) throw problem('level-unknown', level);
  const row = TABLE_I.find(([upTo]) => lotSize <= upTo);
  return row?.[1][column] as string;
}
