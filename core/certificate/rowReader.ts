import * as z from 'zod';
import { Problem, problem } from '../problem/problem.ts';
import { decimalText } from '../quantity/decimal.ts';
import { type BrokenFile, brokenRow } from './brokenFile.ts';
import { quoted } from './closedFile.ts';
import { meantBy, PLACES } from './csv.ts';
import type { Column, RowKind } from './format.ts';

/** What `z.iso.datetime` goes by. */
const TIME = z.regexes.datetime({ offset: true });
const PIECES = /^\d{1,15}$/;

/** Below the names of the columns. */
const FIRST_ROW = 2;

/** Says where a certificate does not hold. Rows are counted from 1, the header being row 1. */
export function broken(row: number, why: string): BrokenFile {
  return brokenRow((where, because) => problem('certificate-broken', where, because), row, why);
}

/** One row of the file, read cell by cell. Every refusal names the row. */
export class FileRow {
  readonly number: number;
  readonly cells: readonly string[];

  constructor(number: number, cells: readonly string[]) {
    this.number = number;
    this.cells = cells;
  }

  value(column: Column): string {
    return meantBy(column, this.cells[PLACES[column]] ?? '');
  }

  /** The text of a row that must have one: a name or number somebody gave. */
  named(column: 'text' | 'by' = 'text'): string {
    const value = this.value(column);
    if (value.trim() === '') throw this.broken(`${column === 'by' ? 'by' : this.value('item')} is empty`);
    return value;
  }

  is(row: RowKind, item?: string): boolean {
    return this.value('row') === row && (item === undefined || this.value('item') === item);
  }

  oneOf<T extends string>(column: Column, known: readonly T[]): T {
    const value = this.value(column);
    const found = known.find((word) => word === value);
    if (found === undefined) throw this.broken(`${column} is ${quoted(value)} instead of ${known.join(' or ')}`);
    return found;
  }

  pieces(column: 'pieces' | 'position' | 'number' = 'pieces'): number {
    const value = this.value(column);
    if (!PIECES.test(value)) throw this.broken(`${column} is ${quoted(value)} instead of a whole number`);
    return Number(value);
  }

  decimal(column: Column): string {
    const value = this.value(column);
    if (!decimalText.safeParse(value).success)
      throw this.broken(`${column} is ${quoted(value)} instead of a plain decimal`);
    return value;
  }

  decimalOrNone(column: Column): string | null {
    return this.value(column) === '' ? null : this.decimal(column);
  }

  time(): string {
    return this.checkedTime(this.value('at'));
  }

  checkedTime(value: string): string {
    if (!TIME.test(value)) throw this.broken(`${quoted(value)} is not a time in ISO 8601 with offset`);
    return value;
  }

  broken(why: string): BrokenFile {
    return broken(this.number, why);
  }

  /** Does something with this row's facts; a problem it meets is a fault of this row. */
  holds<T>(compute: () => T): T {
    try {
      return compute();
    } catch (thrown) {
      if (thrown instanceof Problem && thrown.code !== 'certificate-broken') throw this.broken(thrown.what);
      throw thrown;
    }
  }
}

/** Reads the rows of a certificate one after the other, each being the one that must come next. */
export class RowReader {
  readonly #rows: Iterator<readonly string[]>;
  #next: FileRow;

  /** @param rows all rows of the file without header, digest and signature; each is read when it is come to */
  constructor(rows: Iterable<readonly string[]>) {
    this.#rows = rows[Symbol.iterator]();
    this.#next = this.#read(FIRST_ROW);
  }

  #read(number: number): FileRow {
    const { done, value } = this.#rows.next();
    return new FileRow(number, done ? [] : value);
  }

  /** How many rows were taken, the header among them. */
  get count(): number {
    return this.#next.number - 1;
  }

  /** The row that comes next; one of empty cells at the end. */
  peek(): FileRow {
    return this.#next;
  }

  /** The row that must come next. */
  take(row: RowKind, item?: string): FileRow {
    const found = this.peek();
    if (!found.is(row, item)) {
      const wanted = item === undefined ? row : `${row}, ${item}`;
      const there = found.cells.length === 0 ? 'the end' : quoted(`${found.value('row')}, ${found.value('item')}`);
      throw found.broken(`"${wanted}" must stand here and not ${there}`);
    }
    this.#next = this.#read(found.number + 1);
    return found;
  }

  /** All rows of this kind that come next. */
  *all(row: RowKind, item?: string): Generator<FileRow> {
    while (this.peek().is(row, item)) yield this.take(row, item);
  }

  end(): void {
    const found = this.peek();
    if (found.cells.length > 0)
      throw found.broken(`${quoted(`${found.value('row')}, ${found.value('item')}`)} is one row too many`);
  }
}
