/**
 * The certificate of one run, format 1.
 *
 * One CSV file (RFC 4180): UTF-8 without byte order mark, lines end with CRLF, the first row names the columns, every
 * row has all columns, cells are quoted only where they must be. Rows are counted from 1, the header being row 1.
 *
 * | column                    | holds                                                                              |
 * |---------------------------|------------------------------------------------------------------------------------|
 * | `row`                     | what the row describes: certificate, bench, lot, part, meter, plan, reading, summary, disposition, digest |
 * | `item`                    | which fact of it; of a reading its number, from 1 in the order they were taken     |
 * | `text`                    | a value in words; of a void reading why, by whom and when it was made void         |
 * | `piece`                   | of a reading the number of the piece, from 1 in the order they left the lot        |
 * | `pieces`                  | a count of pieces                                                                  |
 * | `ohms`                    | ohms; of a reading exactly as its meter text says, to the same last digit, so trailing zeros are kept; empty for an open piece |
 * | `lower_ohms`, `upper_ohms`| limits of the window in ohms, both inside; empty where there is none               |
 * | `percent`                 | per cent                                                                           |
 * | `verdict`                 | of a reading: pass, fail-low, fail-high, open; void where it does not count        |
 * | `meter_text`              | of a reading the meter's very text                                                 |
 * | `at`                      | when, in ISO 8601 with offset                                                      |
 *
 * - Numbers are plain decimals with a dot, no exponent and no grouping (only `meter_text` may have an exponent).
 * - Text that a spreadsheet could take for a formula carries an apostrophe more (see safeText.ts).
 * - Lowest, highest and mean are of the readings that count and have a value. The mean is rounded half to even, to two
 *   decimals more than the finest of those readings; its row says how many.
 * - What depends on how the meter was reached is not on it: the same run over any line makes the same rows.
 * - The last row is `digest,sha-256,` and the SHA-256 in lower-case hex of all bytes before that row. It shows any change
 *   to the file since it was written; it does not show who wrote it.
 */
export const FORMAT = 'Reelohm certificate 1';

export const COLUMNS = [
  'row',
  'item',
  'text',
  'piece',
  'pieces',
  'ohms',
  'lower_ohms',
  'upper_ohms',
  'percent',
  'verdict',
  'meter_text',
  'at',
] as const;

export type Column = (typeof COLUMNS)[number];

/** What a row may describe, in the order of the file; the digest comes after all. */
export type RowKind =
  | 'certificate'
  | 'bench'
  | 'lot'
  | 'part'
  | 'meter'
  | 'plan'
  | 'reading'
  | 'summary'
  | 'disposition';

/** One row by its columns, texts as they are meant; columns left out are empty. */
export type Row = { row: RowKind; item: string } & { [C in Exclude<Column, 'row' | 'item'>]?: string };

/** What the certificate says of the bench, near its top. */
export const BENCH_KIND = {
  real: 'real meter',
  simulated: 'simulated bench: practice, not an inspection of real pieces',
  none: 'no meter was connected',
} as const;
