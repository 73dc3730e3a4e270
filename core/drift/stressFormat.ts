import type { EarlierFormat } from '../certificate/closedFile.ts';
import { plainText, safeText } from '../certificate/safeText.ts';

/**
 * The comparison of pieces before and after a treatment as a file, format 2.
 *
 * One CSV file (RFC 4180): UTF-8 without byte order mark, lines end with CRLF, the first row names the columns, every row
 * has all columns. Rows are counted from 1, the header being row 1.
 *
 * Rows, in the order of the file:
 *
 * 1. `stress`: format, program version, the key it is signed by, who made it and when, the treatment, the limit, and where the values before and
 *    after are from. `rule`: the rules the verdicts follow.
 * 2. `piece`: every piece that has a value before or after, `item` its turn from 1: those before in their order, then those
 *    that were not measured before. `before_ohms` and `after_ohms` with all their digits; `open` for an open piece, empty
 *    for one that was not measured. `verdict` is within, beyond, or why it has none: missing, extra, open-before.
 *    `sure` is no where the limit is nearer than the uncertainty, yes where it is not, and empty where that is not known.
 * 3. `summary`, `note` (numbered).
 * 4. `digest,sha-256,` and the SHA-256 in lower-case hex of all bytes before that row; `signature,ed25519,` and the signature of
 *    that, as on a certificate (core/certificate/format.ts).
 *
 * - Numbers are plain decimals with a dot, without exponent. `change_ohms` and `limit_ohms` are exact, `change_percent` is
 *   rounded to 5 decimals, half to even.
 * - `text` and `piece` that a spreadsheet could take for a formula carry an apostrophe more (safeText.ts).
 * - The words of rules, summary and notes are part of the format: changing one makes a new format.
 */
export const STRESS_FORMAT = 'Reelohm stress 2';

/** Written by earlier versions and no longer verified. */
export const EARLIER_STRESS_FORMATS: readonly EarlierFormat[] = [
  { name: 'Reelohm stress 1', columns: 14, is: 'format 1, without a signature' },
];

export const STRESS_COLUMNS = [
  'row',
  'item',
  'text',
  'piece',
  'pieces',
  'before_ohms',
  'before_expanded_ohms',
  'after_ohms',
  'after_expanded_ohms',
  'change_ohms',
  'change_percent',
  'limit_ohms',
  'verdict',
  'sure',
] as const;

export type StressColumn = (typeof STRESS_COLUMNS)[number];

/** What a row may describe; digest and signature come after all. */
export type StressRowKind = 'stress' | 'rule' | 'piece' | 'summary' | 'note';

/** One row by its columns, texts as they are meant; columns left out are empty. */
export type StressRow = { row: StressRowKind; item: string } & {
  [C in Exclude<StressColumn, 'row' | 'item'>]?: string;
};

/** What stands for the value of an open piece. */
export const OPEN = 'open';

const FREE_TEXT: readonly StressColumn[] = ['text', 'piece'];

/** The cells of a row as they stand in the file. */
export function stressCells(row: StressRow): string[] {
  return STRESS_COLUMNS.map((column) =>
    FREE_TEXT.includes(column) ? safeText(row[column] ?? '') : (row[column] ?? ''),
  );
}

/** What one cell means. */
export function stressCell(cells: readonly string[], column: StressColumn): string {
  const cell = cells[STRESS_COLUMNS.indexOf(column)] ?? '';
  return FREE_TEXT.includes(column) ? plainText(cell) : cell;
}
