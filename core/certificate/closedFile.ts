import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { type Problem, wordsOf } from '../problem/problem.ts';
import type { TellProgress } from '../progress/progress.ts';
import { cellsOfCsv, csvText } from './csv.ts';

/**
 * A kind of CSV file whose last row is the digest of every byte before it: certificates, studies, comparisons. All of them
 * are verified alike: no byte was changed, and writing the file anew from what was put in gives the same rows.
 */
export interface ClosedFormat {
  columns: readonly string[];
  /** What all else in the file follows from, in words that go before "give". */
  inputs: string;
  /** The problem of a file that does not hold: where, and why. */
  broken(where: string, why: string): Problem;
}

/** What is checked of every closed file, in words for the person. */
export const DIGEST_FITS =
  'The SHA-256 in the last row fits every byte before it (it shows changes, not who wrote the file)';

const DIGEST_BEGINS = utf8ToBytes('digest,sha-256,');

/** Rows of cells, header first, as the whole text of a file that is closed by its digest. */
export function closed(rows: string[][], tell?: TellProgress): string {
  const body = csvText(rows, tell);
  return body + digestRow(utf8ToBytes(body), rows[0]?.length ?? 0);
}

/** SHA-256 of all bytes of a file, as the record keeps it and `sha256sum` prints it. */
export function hexDigest(bytes: Uint8Array): string {
  return bytesToHex(sha256(bytes));
}

function digestRow(body: Uint8Array, columns: number): string {
  return `digest,sha-256,${hexDigest(body)}${','.repeat(columns - 3)}\r\n`;
}

/** The bytes before a digest row of so many columns that fits them; null where there is none. */
export function bodyOfColumns(bytes: Uint8Array, columns: number): Uint8Array | null {
  const length = digestRow(new Uint8Array(), columns).length;
  const body = bytes.subarray(0, Math.max(0, bytes.length - length));
  const row = bytes.subarray(body.length);
  // Where no digest row stands nothing needs to be digested.
  if (!sameBytes(row.subarray(0, DIGEST_BEGINS.length), DIGEST_BEGINS)) return null;
  return sameBytes(row, utf8ToBytes(digestRow(body, columns))) ? body : null;
}

/** The bytes before the digest row. @throws the format's problem where it does not fit them */
export function bodyOf(bytes: Uint8Array, format: ClosedFormat): Uint8Array {
  const body = bodyOfColumns(bytes, format.columns.length);
  if (body === null) {
    throw format.broken('the digest', 'the file is not, byte for byte, the one that was written');
  }
  return body;
}

/** All rows, header included, as cells. @throws the format's problem where it is no CSV */
export function cellsIn(body: Uint8Array, { broken }: ClosedFormat): string[][] {
  try {
    return cellsOfCsv(body);
  } catch (thrown) {
    throw broken('its form', `it is no CSV of equal rows: ${wordsOf(thrown)}`);
  }
}

/** All rows, header included, as cells. @throws the format's problem where it is no CSV, or has other columns */
export function cellsOfBody(body: Uint8Array, format: ClosedFormat): string[][] {
  const cells = cellsIn(body, format);
  if (cells[0]?.join() !== format.columns.join()) {
    throw format.broken('row 1', `the columns are not ${format.columns.join()}`);
  }
  return cells;
}

/**
 * Compares the file's rows (header first) with the rows, without header, that its own inputs give.
 * @throws the format's problem, naming the first row and column that differ
 */
export function mustComeOutTheSame(
  cells: readonly string[][],
  again: readonly string[][],
  { columns, inputs, broken }: ClosedFormat,
): void {
  for (const [index, given] of again.entries()) {
    const said = cells[index + 1] ?? [];
    const place = given.findIndex((cell, column) => cell !== said[column]);
    if (place < 0) continue;
    const [there, wanted] = [quoted(said[place] ?? ''), quoted(given[place] ?? '')];
    throw broken(`row ${index + 2}`, `${columns[place]} is ${there}, but ${inputs} give ${wanted}`);
  }
  if (cells.length > again.length + 1) throw broken(`row ${again.length + 2}`, 'this row is too many');
}

/** Equal cells can still be quoted otherwise, or hold bytes that are no UTF-8. @throws the format's problem */
export function mustBeWrittenAlike(
  body: Uint8Array,
  again: readonly string[][],
  format: ClosedFormat,
  tell?: TellProgress,
): void {
  if (!sameBytes(utf8ToBytes(csvText([[...format.columns], ...again], tell)), body)) {
    throw format.broken('its form', 'the rows are not written as this format writes them');
  }
}

/** A cell's content as a message quotes it: not all of an endless one. */
export function quoted(content: string): string {
  return content.length > 80 ? `"${content.slice(0, 80)}…"` : `"${content}"`;
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index]);
}
