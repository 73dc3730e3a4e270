import type { ClosedFormat } from '../certificate/closedFile.ts';
import { plainText, safeText } from '../certificate/safeText.ts';
import { problem } from '../problem/problem.ts';
import { isMeterNumber } from '../quantity/meterNumber.ts';

/**
 * The certificate of a continuity run as a file, format 1.
 *
 * One CSV file (RFC 4180): UTF-8 without byte order mark, lines end with CRLF, the first row names the columns, every row has all
 * columns. Rows are counted from 1, the header being row 1.
 *
 * Rows, in the order of the file:
 *
 * 1. `continuity`: format, program version, the key it is signed by, when it was written; number of the run, who inspects, what it is,
 *    its drawing and serial number, when it was received, which cross-connection pairs were taken, both limits (`limit_ohms`), and
 *    after how many readings the leads were checked again.
 * 2. `point`: every pair of terminals, `item` its number; `origin` is listed, or cross for one that follows from the list.
 * 3. `event`: all that happened, in order. A reading has the meter's very text (`meter_text`), on which range it showed, and what follows:
 *    `ohms` with the zero subtracted (empty for overload), `doubt_ohms` by which it may be wrong, `found`, `verdict`, `reason`.
 *    `facts` holds as JSON what a meter is (its address left out), which cautions were confirmed, what the leads showed.
 * 4. `result`: the reading that counts of each point; `net`: every net, its terminals parted by blanks, how it was found;
 *    `matrix`: every two terminals, where there are no more than 200 of them; `summary`, `note` (numbered), `bound` (numbered): what such a run
 *    does not show.
 * 5. `digest,sha-256,` and the SHA-256 in lower-case hex of all bytes before that row; `signature,ed25519,` and the signature of that,
 *    as on a certificate of an inspection (core/certificate/format.ts).
 *
 * - Numbers are plain decimals with a dot, without exponent. Texts that a spreadsheet could take for a formula carry an apostrophe
 *   more (safeText.ts).
 * - Everything from the first `result` on, and every judgement in the events, follows from the rest: changing its words makes a new format.
 */
export const CONTINUITY_FORMAT = 'Reelohm continuity 1';

export const CONTINUITY_COLUMNS = [
  'row',
  'item',
  'text',
  'by',
  'at',
  'point',
  'wire',
  'from',
  'to',
  'expected',
  'limit_ohms',
  'state',
  'origin',
  'reading',
  'meter_text',
  'meter_line',
  'range',
  'ohms',
  'zero_ohms',
  'doubt_ohms',
  'found',
  'verdict',
  'reason',
  'approved_by',
  'facts',
] as const;
export type ContinuityColumn = (typeof CONTINUITY_COLUMNS)[number];

/** What a row may describe; digest and signature come after all. */
export type ContinuityRowKind =
  | 'continuity'
  | 'point'
  | 'event'
  | 'result'
  | 'net'
  | 'matrix'
  | 'summary'
  | 'note'
  | 'bound';

/** One row by its columns, texts as they are meant; columns left out are empty. */
export type ContinuityRow = { row: ContinuityRowKind; item: string } & {
  [C in Exclude<ContinuityColumn, 'row' | 'item'>]?: string | undefined;
};

const FREE_TEXT: ReadonlySet<ContinuityColumn> = new Set([
  'text',
  'by',
  'wire',
  'from',
  'to',
  'state',
  'meter_text',
  'meter_line',
  'approved_by',
  'facts',
]);

/** The cells of a row as they stand in the file. */
export function continuityCells(row: ContinuityRow): string[] {
  return CONTINUITY_COLUMNS.map((column) => {
    const value = row[column] ?? '';
    return isText(column, value) ? safeText(value) : value;
  });
}

/** What one cell means. */
export function continuityCell(cells: readonly string[], column: ContinuityColumn): string {
  const cell = cells[CONTINUITY_COLUMNS.indexOf(column)] ?? '';
  return isText(column, cell) ? plainText(cell) : cell;
}

/** A meter's number may begin with a sign, which is no formula. */
function isText(column: ContinuityColumn, value: string): boolean {
  return FREE_TEXT.has(column) && !(column === 'meter_text' && isMeterNumber(value));
}

/** How the file is closed and verified; it has no form with a decimal comma. */
export const CONTINUITY_CLOSED: ClosedFormat = {
  name: CONTINUITY_FORMAT,
  earlier: [],
  columns: CONTINUITY_COLUMNS,
  isNumeric: CONTINUITY_COLUMNS.map(() => false),
  inputs: 'the list and what the meter showed',
  broken: (where, why) => problem('continuity-broken', where, why),
};
