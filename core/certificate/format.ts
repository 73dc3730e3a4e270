/**
 * The certificate of one run, format 5.
 *
 * One CSV file (RFC 4180): UTF-8 without byte order mark, lines end with CRLF, the first row names the columns, every
 * row has all columns, cells are quoted only where they must be. Rows are counted from 1, the header being row 1.
 *
 * | column                    | holds                                                                              |
 * |---------------------------|------------------------------------------------------------------------------------|
 * | `row`                     | what the row describes, see below                                                  |
 * | `item`                    | which fact of it; of a reading its number, from 1 in the order they were taken; of a void row the number of the reading made void; of an order row the turn |
 * | `text`                    | a value in words, or the words that belong to a figure; of a check how it came out; of a suspect reading why |
 * | `by`                      | of a check, an override and a void row whose they are; of an operator and an order row who measures |
 * | `piece`                   | of a reading the number of the piece, from 1 in the order they left the lot, in a study the turn; of an order row the piece |
 * | `asked_position`          | of a reading where along the reel its piece was asked for, from 1 to the lot's size: drawn anew from the seed, or by the rule, when a certificate is verified; empty where positions are not known, and in a study |
 * | `position`                | of a reading where along the reel its piece was taken; of the trend's row where its line leaves the window, where positions are known |
 * | `pieces`                  | a count of pieces                                                                  |
 * | `ohms`                    | ohms; of a reading what its meter text says less `zero_ohms`, to the finer of their last digits, plus `temperature_ohms`, so trailing zeros are kept; empty for an open piece |
 * | `zero_ohms`               | of a reading the zero that was subtracted; of a check the zero it gave             |
 * | `temperature_ohms`        | of a reading what was added to bring it to the reference temperature; 0 where the coefficient is not known |
 * | `expanded_ohms`           | expanded uncertainty U, rounded up to two significant digits; of a reading its own; empty where it is not known |
 * | `coverage_factor`         | the k of that U                                                                    |
 * | `lower_ohms`, `upper_ohms`| limits in ohms: of the window, both inside; of an interval; empty where there is none |
 * | `volts`, `celsius`        | volts, degrees Celsius                                                             |
 * | `percent`                 | per cent                                                                           |
 * | `number`                  | a figure without a unit, or with the one its item names                            |
 * | `verdict`                 | of a reading: pass, conditional-pass, conditional-fail-low, conditional-fail-high, fail-low, fail-high, open; void or suspect where it does not count; of a check: passed, failed, by-word, waived |
 * | `wrong_percent`           | of a reading that counts how probable it is, in per cent, that its verdict is wrong: that the piece lies outside the window though it conforms, or inside though it does not; both tails, with u = U / k, little being known beforehand (JCGM 106:2012, 7.2 to 7.4); empty where U is not known, and of an open piece |
 * | `meter_text`              | of a reading the meter's very text; of a found row what was read, said or typed    |
 * | `at`                      | when, in ISO 8601 with offset                                                      |
 *
 * Rows, in the order of the file:
 *
 * 1. `certificate` (format, version, run, the `key` it is signed by as fingerprint and public key in hex, and of a `reprint` the
 *    number of the copy, from 2, when it was made, and the SHA-256 of the copy before it), `bench, kind`, `lot`, `part`, `measurement` (how the lot was to be measured and how long checks hold),
 *    `decision` (the rule, how many times U its guard bands are wide, the standard deviation of the process where it was
 *    given), `temperature` (at which the value is wanted, what is known of the coefficient, how well the ambient temperature
 *    is known), `plan`; of a study `order`, its turns in the order that follows from its seed: what was to be done;
 *    `positions` (where along the reel pieces were to be taken, and the seed they were drawn from).
 * 2. What happened, in the order it happened:
 *    - `meter`: a meter was connected (`at` of its identity), its settings, its calibration and its limits of error. They
 *      are the ones in force for every row after it, up to the next meter connected;
 *    - `bench`: somebody confirmed the cautions, each by itself;
 *    - `check`: a check of the bench with its outcome, followed by `found` rows (all it was judged from) and, of the check
 *      of a reference, `reference` rows;
 *    - `readiness, expired`: what was shown of the bench held no longer, and why;
 *    - `override, calibration`: somebody overrode the calibration of a meter that is overdue or unknown;
 *    - `reading`; `void`: somebody made a reading void, and why.
 * 3. What follows:
 *    - `summary`: counts, lowest, highest, mean, checks, what the plan says;
 *    - `worth`: the largest U of the readings that count; of those in the window, or as near to it as their U, the smallest
 *      test uncertainty ratio, and the risks of the decision rule where a spread of the process was given;
 *    - `drift`: how far the meter moved by its reference;
 *    - `figure`, of a lot: spread, capability, fraction outside, tolerance interval, shape, outliers, trend;
 *    - `study`, of a study instead: variance, components, conclusions, notes.
 * 4. `disposition`, `digest`, `signature`.
 *
 * - Numbers are plain decimals with a dot, no exponent and no grouping (only `meter_text` may have an exponent).
 * - Text that a spreadsheet could take for a formula carries an apostrophe more (see safeText.ts).
 * - After a check that failed, every reading that counted and was taken since the last whole round of checks is suspect:
 *   its verdict says so, and its piece is measured again. A lot is accepted or not accepted only after a whole round that
 *   passed behind its last reading. A lot on hold needs none.
 * - Lowest, highest and mean are of the readings that count and have a value. The mean is rounded half to even, to two
 *   decimals more than the finest of those readings; its row says how many.
 * - The figures are of the same readings, pieces in the order of their positions along the reel, of their numbers where positions
 *   are not known. They are worked out with doubles and rounded to 6
 *   significant digits, half away from zero; median and tolerance interval to 9; per cent, E_n and risks to 3. What comes out smaller than 5e-13 is 0,
 *   and a p below 0.000001 is said to be so in `text`. Where a figure cannot be given, or would say nothing, `text` says why
 *   and the cells of its figure are empty.
 * - A piece measured again is asked for at its own position. A reading whose position is another one than asked for was taken there by
 *   the inspector; `summary` counts them. That place is put in, as names are: where it was altered to another such place, only
 *   digest and signature show it.
 * - What depends on how the meter was reached is not on it: the same run over any line makes the same rows.
 * - The words of checks, summary and figures are part of the format: they are compared when a certificate is verified, so
 *   changing one makes a new format.
 * - The last row but one is `digest,sha-256,` and the SHA-256 in lower-case hex of all bytes before that row. It shows any change
 *   to the file since it was written.
 * - The last row is `signature,ed25519,` and the Ed25519 signature (RFC 8032) in lower-case hex, by the key that the file names, of the
 *   lines `Reelohm signature 1`, name of the format and digest, each with a line feed. It shows that who closed the file had that key;
 *   whose key it is, the file cannot show. Hex and not base64, since base64 may begin as a formula does.
 * - For spreadsheets with a decimal comma there is a second form (form.ts): semicolons part the cells, and in the columns of numbers
 *   the dot is a comma. Digest and signature in it are those of the first form, which it is turned back into when it is verified.
 */
export const FORMAT = 'Reelohm certificate 5';

/** Written by earlier versions and no longer verified: how many columns they have, and what they lack. */
export const EARLIER_FORMATS = [
  { name: 'Reelohm certificate 1', columns: 12, is: 'format 1, without checks of the bench' },
  { name: 'Reelohm certificate 2', columns: 16, is: 'format 2, without uncertainty and decision rule' },
  { name: 'Reelohm certificate 3', columns: 21, is: 'format 3, without positions along the reel' },
  { name: 'Reelohm certificate 4', columns: 23, is: 'format 4, without a signature' },
] as const;

export const COLUMNS = [
  'row',
  'item',
  'text',
  'by',
  'piece',
  'asked_position',
  'position',
  'pieces',
  'ohms',
  'zero_ohms',
  'temperature_ohms',
  'expanded_ohms',
  'coverage_factor',
  'lower_ohms',
  'upper_ohms',
  'volts',
  'celsius',
  'percent',
  'number',
  'verdict',
  'wrong_percent',
  'meter_text',
  'at',
] as const;

export type Column = (typeof COLUMNS)[number];

/** The columns that hold numbers and nothing else; `item` is a number only of some rows. */
export const NUMERIC_COLUMNS = [
  'piece',
  'asked_position',
  'position',
  'pieces',
  'ohms',
  'zero_ohms',
  'temperature_ohms',
  'expanded_ohms',
  'coverage_factor',
  'lower_ohms',
  'upper_ohms',
  'volts',
  'celsius',
  'percent',
  'number',
  'wrong_percent',
] as const satisfies readonly Column[];

/** Rows in which nothing is put in: all of them follow from the rows before. */
export const FOLLOWING = ['summary', 'worth', 'drift', 'figure', 'study'] as const;

/** What a row may describe; digest and signature come after all. */
export type RowKind =
  | 'certificate'
  | 'bench'
  | 'lot'
  | 'part'
  | 'measurement'
  | 'decision'
  | 'temperature'
  | 'plan'
  | 'positions'
  | 'switching'
  | 'order'
  | 'meter'
  | 'check'
  | 'found'
  | 'reference'
  | 'readiness'
  | 'override'
  | 'reading'
  | 'void'
  | 'hold'
  | 'correction'
  | (typeof FOLLOWING)[number]
  | 'disposition';

/** One row by its columns, texts as they are meant; columns left out are empty. */
export type Row = { row: RowKind; item: string } & { [C in Exclude<Column, 'row' | 'item'>]?: string };

export function textRow(row: RowKind, item: string, text: string): Row {
  return { row, item, text };
}

export function piecesRow(row: RowKind, item: string, count: number): Row {
  return { row, item, pieces: String(count) };
}

/** By what a plan was chosen. */
export const CHOSEN_BY = {
  aql: 'AQL',
  agreed: 'agreed numbers',
  'zero-acceptance': 'zero acceptance',
  'two-point': 'two points',
  variables: 'variables',
  'every-piece': 'every piece',
  study: 'study',
} as const;

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
