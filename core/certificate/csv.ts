import { parse } from 'csv-parse/browser/esm/sync';
import { stringify } from 'csv-stringify/browser/esm/sync';
import { BETWEEN_TELLINGS, TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { isMeterNumber } from '../quantity/meterNumber.ts';
import { COLUMNS, type Column, type Row } from './format.ts';
import { plainText, safeText } from './safeText.ts';

const RFC_4180 = { delimiter: ',', record_delimiter: '\r\n' };

/** The columns whose cells may hold text of people and meters. */
const TEXTS: ReadonlySet<Column> = new Set(['text', 'by', 'meter_text']);

function cellOf(column: Column, value: string): string {
  if (value === '' || !TEXTS.has(column)) return value;
  // A meter's number such as +4.70213E+03 is a number to a spreadsheet too; anything else it may have said is text.
  return column === 'meter_text' && isMeterNumber(value) ? value : safeText(value);
}

/** The cells of a row as they stand in the file. */
export function cellsOf(row: Row): string[] {
  const cells = EMPTY.slice();
  for (const column in row) {
    const value = row[column as Column];
    if (value !== undefined) cells[PLACES[column as Column]] = cellOf(column as Column, value);
  }
  return cells;
}

const EMPTY = COLUMNS.map(() => '');

/** Where each column stands in a row. */
export const PLACES = Object.fromEntries(COLUMNS.map((column, place) => [column, place])) as Record<Column, number>;

/** The value of one cell as it was meant. */
export function meantBy(column: Column, cell: string): string {
  return cell !== '' && TEXTS.has(column) ? plainText(cell) : cell;
}

/** Rows of cells as CSV text. */
export function csvText(rows: string[][], tell: TellProgress = TELL_NOBODY): string {
  let text = '';
  for (let from = 0; from < rows.length; from += BETWEEN_TELLINGS) {
    const upTo = Math.min(from + BETWEEN_TELLINGS, rows.length);
    text += stringify(rows.slice(from, upTo), RFC_4180);
    tell({ step: 'rows-written', done: upTo, of: rows.length });
  }
  return text;
}

/** All rows of a CSV file, header included, as cells. @throws Error of the CSV library where it is none */
export function cellsOfCsv(bytes: Uint8Array): string[][] {
  return parse(bytes, RFC_4180);
}
