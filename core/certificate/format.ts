/**
 * The certificate of one run, format 2.
 *
 * One CSV file (RFC 4180): UTF-8 without byte order mark, lines end with CRLF, the first row names the columns, every
 * row has all columns, cells are quoted only where they must be. Rows are counted from 1, the header being row 1.
 *
 * | column                    | holds                                                                              |
 * |---------------------------|------------------------------------------------------------------------------------|
 * | `row`                     | what the row describes, see below                                                  |
 * | `item`                    | which fact of it; of a reading its number, from 1 in the order they were taken; of a void row the number of the reading made void |
 * | `text`                    | a value in words; of a check how it came out; of a suspect reading why             |
 * | `by`                      | of a check, an override and a void row whose they are                              |
 * | `piece`                   | of a reading the number of the piece, from 1 in the order they left the lot        |
 * | `pieces`                  | a count of pieces                                                                  |
 * | `ohms`                    | ohms; of a reading what its meter text says less `zero_ohms`, to the finer of their last digits, so trailing zeros are kept; empty for an open piece |
 * | `zero_ohms`               | of a reading the zero that was subtracted; of a check the zero it gave             |
 * | `lower_ohms`, `upper_ohms`| limits of the window in ohms, both inside; empty where there is none               |
 * | `volts`, `celsius`        | volts, degrees Celsius                                                             |
 * | `percent`                 | per cent                                                                           |
 * | `verdict`                 | of a reading: pass, fail-low, fail-high, open; void or suspect where it does not count; of a check: passed, failed, by-word, waived |
 * | `meter_text`              | of a reading the meter's very text; of a found row what was read, said or typed    |
 * | `at`                      | when, in ISO 8601 with offset                                                      |
 *
 * Rows, in the order of the file:
 *
 * 1. `certificate`, `bench, kind`, `lot`, `part`, `measurement` (how the lot was to be measured and how long checks hold),
 *    `plan`: what was to be done.
 * 2. What happened, in the order it happened:
 *    - `meter`: a meter was connected (`at` of its identity), its settings, its calibration and its limits of error. They
 *      are the ones in force for every row after it, up to the next meter connected;
 *    - `bench`: somebody confirmed the cautions, each by itself;
 *    - `check`: a check of the bench with its outcome, followed by `found` rows (all it was judged from) and, of the check
 *      of a reference, `reference` rows;
 *    - `readiness, expired`: what was shown of the bench held no longer, and why;
 *    - `override, calibration`: somebody overrode the calibration of a meter that is overdue or unknown;
 *    - `reading`; `void`: somebody made a reading void, and why.
 * 3. `summary`, `disposition`, `digest`.
 *
 * - Numbers are plain decimals with a dot, no exponent and no grouping (only `meter_text` may have an exponent).
 * - Text that a spreadsheet could take for a formula carries an apostrophe more (see safeText.ts).
 * - After a check that failed, every reading that counted and was taken since the last whole round of checks is suspect:
 *   its verdict says so, and its piece is measured again. A lot is accepted or not accepted only after a whole round that
 *   passed behind its last reading. A lot on hold needs none.
 * - Lowest, highest and mean are of the readings that count and have a value. The mean is rounded half to even, to two
 *   decimals more than the finest of those readings; its row says how many.
 * - What depends on how the meter was reached is not on it: the same run over any line makes the same rows.
 * - The words of checks and summary are part of the format: they are compared when a certificate is verified, so changing
 *   one makes a new format.
 * - The last row is `digest,sha-256,` and the SHA-256 in lower-case hex of all bytes before that row. It shows any change
 *   to the file since it was written; it does not show who wrote it.
 */
export const FORMAT = 'Reelohm certificate 2';

/** Written by an earlier version, without checks; no longer verified. */
export const FORMAT_1 = 'Reelohm certificate 1';

export const COLUMNS = [
  'row',
  'item',
  'text',
  'by',
  'piece',
  'pieces',
  'ohms',
  'zero_ohms',
  'lower_ohms',
  'upper_ohms',
  'volts',
  'celsius',
  'percent',
  'verdict',
  'meter_text',
  'at',
] as const;

export type Column = (typeof COLUMNS)[number];

/** What a row may describe; the digest comes after all. */
export type RowKind =
  | 'certificate'
  | 'bench'
  | 'lot'
  | 'part'
  | 'measurement'
  | 'plan'
  | 'meter'
  | 'check'
  | 'found'
  | 'reference'
  | 'readiness'
  | 'override'
  | 'reading'
  | 'void'
  | 'summary'
  | 'disposition';

/** One row by its columns, texts as they are meant; columns left out are empty. */
export type Row = { row: RowKind; item: string } & { [C in Exclude<Column, 'row' | 'item'>]?: string };

export function textRow(row: RowKind, item: string, text: string): Row {
  return { row, item, text };
}

export function piecesRow(row: RowKind, item: string, count: number): Row {
  return { row, item, pieces: String(count) };
}

/** How function and range of a meter were set. */
export const SET_BY = {
  program: 'by the program, and read back',
  hand: 'by hand at the meter, not read back',
} as const;

/** What the certificate says of the bench, near its top. */
export const BENCH_KIND = {
  real: 'real meter',
  simulated: 'simulated bench: practice, not an inspection of real pieces',
  none: 'no meter was connected',
} as const;
