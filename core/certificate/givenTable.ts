import { type Problem, wordsOf } from '../problem/problem.ts';
import { cellsOfCsv } from './csv.ts';

/** A table that somebody else's program wrote as CSV. */
export interface GivenTable {
  /** Names of the columns as the first row gives them, trimmed and in lower case. */
  columns: readonly string[];
  /** Cells of all rows after the first; the first of them is row 2 of the file. */
  rows: readonly (readonly string[])[];
}

/** The problem of a table that cannot be used: where, and why. */
export type Unusable = (where: string, why: string) => Problem;

const [CR, LF] = [13, 10];

/**
 * Reads CSV (RFC 4180, UTF-8), also with a byte order mark, with plain line feeds and with empty lines at its end.
 * @throws the problem given, where it is no CSV of equal rows
 */
export function givenTable(bytes: Uint8Array, unusable: Unusable): GivenTable {
  let cells: string[][];
  try {
    cells = cellsOfCsv(tidied(bytes));
  } catch (thrown) {
    throw unusable('as CSV', wordsOf(thrown));
  }
  const [header = [], ...rows] = cells;
  return { columns: header.map((name) => name.trim().toLowerCase()), rows };
}

/** @throws the problem given, where a column that is needed is not there */
export function mustHave(columns: readonly string[], needed: readonly string[], unusable: Unusable): void {
  const missing = needed.filter((column) => !columns.includes(column));
  if (missing.length > 0) {
    throw unusable('row 1', `there is no column ${missing.join(', ')}; it names "${shortened(columns.join(','))}"`);
  }
}

/** @throws the problem given, where one of these columns is there twice */
export function mustStandOnce(columns: readonly string[], known: readonly string[], unusable: Unusable): void {
  const twice = known.find((column) => columns.indexOf(column) !== columns.lastIndexOf(column));
  if (twice !== undefined) throw unusable('row 1', `the column ${twice} is there twice`);
}

/** A cell's content as a message quotes it: not all of an endless one. */
export function shortened(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

/** With line ends as RFC 4180 has them, without byte order mark and without empty lines at the end. */
function tidied(bytes: Uint8Array): Uint8Array {
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  let end = bytes.length;
  while (end > start && (bytes[end - 1] === CR || bytes[end - 1] === LF)) end -= 1;
  const tidy: number[] = [];
  for (let place = start; place < end; place += 1) {
    const byte = bytes[place] as number;
    if (byte === LF && bytes[place - 1] !== CR) tidy.push(CR);
    tidy.push(byte);
  }
  return Uint8Array.from(tidy);
}
