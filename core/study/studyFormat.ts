import type { EarlierFormat } from '../certificate/closedFile.ts';
import { plainText, safeText } from '../certificate/safeText.ts';
import { significant } from '../quantity/significant.ts';

/**
 * The result of a study as a file, format 2.
 *
 * One CSV file (RFC 4180): UTF-8 without byte order mark, lines end with CRLF, the first row names the columns, every row
 * has all columns. Rows are counted from 1, the header being row 1.
 *
 * Rows, in the order of the file:
 *
 * 1. `study`: the key it is signed by, what was studied, by whom, when, its design. `choice`: how a measured study was planned, with the seed its
 *    order follows from (none for readings from a file).
 * 2. `part`: number and window (both limits empty where no window was given). `reference`: value and expanded uncertainty
 *    (k = 2), where there is one.
 * 3. `rule`: the rules the figures follow.
 * 4. `reading`: every reading, `item` its turn (from 1), with all its digits.
 * 5. What follows from the readings. Crossed: `variance` (table with the interaction as a row of its own), `pooled`
 *    (with the interaction counted to repeatability, where the rule says so), `component`, `gauge`. Single operator:
 *    `level`, `sessions`, `bias`.
 * 6. `conclusion` (`item` what about), `note` (numbered).
 * 7. `digest,sha-256,` and the SHA-256 in lower-case hex of all bytes before that row; `signature,ed25519,` and the signature of
 *    that, as on a certificate (core/certificate/format.ts).
 *
 * - Numbers are plain decimals with a dot, without exponent. Figures are rounded to 6 significant digits, half away from
 *   zero on the double; p to 6 decimals. Sums and mean squares and variances are in ohms squared.
 * - `text`, `piece` and `operator` that a spreadsheet could take for a formula carry an apostrophe more (safeText.ts).
 * - The words of rules, conclusions and notes are part of the format: changing one makes a new format.
 */
export const STUDY_FORMAT = 'Reelohm study 2';

/** Written by earlier versions and no longer verified. */
export const EARLIER_STUDY_FORMATS: readonly EarlierFormat[] = [
  { name: 'Reelohm study 1', columns: 23, is: 'format 1, without a signature' },
];

export const STUDY_COLUMNS = [
  'row',
  'item',
  'text',
  'grade',
  'piece',
  'operator',
  'run',
  'session',
  'repeat',
  'ohms',
  'lower_ohms',
  'upper_ohms',
  'sd_ohms',
  'df',
  'sum_of_squares',
  'mean_square',
  'variance',
  'f',
  't',
  'p',
  'percent_of_variance',
  'percent_of_study_variation',
  'percent_of_tolerance',
] as const;

export type StudyColumn = (typeof STUDY_COLUMNS)[number];

/** What a row may describe; digest and signature come after all. */
export type StudyRowKind =
  | 'study'
  | 'choice'
  | 'part'
  | 'reference'
  | 'rule'
  | 'reading'
  | 'variance'
  | 'pooled'
  | 'component'
  | 'gauge'
  | 'level'
  | 'sessions'
  | 'bias'
  | 'conclusion'
  | 'note';

/** One row by its columns, texts as they are meant; columns left out are empty. */
export type StudyRow = { row: StudyRowKind; item: string } & { [C in Exclude<StudyColumn, 'row' | 'item'>]?: string };

const FREE_TEXT: readonly StudyColumn[] = ['text', 'piece', 'operator'];

/** The cells of a row as they stand in the file. */
export function studyCells(row: StudyRow): string[] {
  return STUDY_COLUMNS.map((column) =>
    FREE_TEXT.includes(column) ? safeText(row[column] ?? '') : (row[column] ?? ''),
  );
}

/** The row that these cells stand for. */
export function studyRow(cells: readonly string[]): Record<StudyColumn, string> {
  const entries = STUDY_COLUMNS.map((column, place) => {
    const cell = cells[place] ?? '';
    return [column, FREE_TEXT.includes(column) ? plainText(cell) : cell];
  });
  return Object.fromEntries(entries);
}

const SIGNIFICANT_DIGITS = 6;
const P_DECIMALS = 6;

/** A figure with 6 significant digits as plain decimal text, however small: squares of ohms are; empty for null. */
export function figure(value: number | null): string {
  return value === null ? '' : significant(value, SIGNIFICANT_DIGITS, Number.POSITIVE_INFINITY);
}

/** Degrees of freedom: whole ones as they are. */
export function degrees(df: number | null): string {
  return df !== null && Number.isInteger(df) ? String(df) : figure(df);
}

/** A probability, to 6 decimals; empty for null. */
export function probability(p: number | null): string {
  return p === null ? '' : p.toFixed(P_DECIMALS);
}
