import { parse } from 'csv-parse/browser/esm/sync';
import { wordsOf } from '../problem/problem.ts';
import { mustHave, type Unusable } from './givenTable.ts';

/** A table that a person made with a spreadsheet or by hand, cut into cells. */
export interface SpreadsheetTable {
  /** What stands between two cells. With a semicolon a number may have a decimal comma. */
  separator: ',' | ';';
  /** Names of the columns, trimmed and in lower case. */
  columns: readonly string[];
  /** The rows that are not blank, each with its number in the file; the header is row 1. */
  rows: readonly { row: number; cells: readonly string[] }[];
}

/**
 * Cuts a table into cells: RFC 4180, with a comma or, as spreadsheets write where the comma is the decimal sign, a semicolon between
 * columns; with or without byte order mark, any line ends, blank rows left out. A quote within a cell that does not begin with one
 * is a character like others. A row with too few or too many cells is for whoever reads it.
 * @param needed columns without which it is no such table
 * @throws the problem given, where it is no such table or has no such column
 */
export function spreadsheetTable(text: string, needed: readonly string[], unusable: Unusable): SpreadsheetTable {
  const given = text.replace(/^\ufeff/, '');
  const separator = separatorOf(given, needed, unusable);
  const [header, ...rest] = cellsOf(given, separator, unusable);
  const columns = namesOf(header);
  mustHave(columns, needed, unusable);
  const rows = rest
    .map((cells, index) => ({ row: index + 2, cells }))
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  return { separator, columns, rows };
}

/** What stands between the names of the first row; a name may have the other of the two in it. */
function separatorOf(text: string, needed: readonly string[], unusable: Unusable): ',' | ';' {
  const header = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  if (!header.includes(';')) return ',';
  if (!header.includes(',')) return ';';
  const names = namesOf(cellsOf(header, ';', unusable)[0]);
  return needed.every((name) => names.includes(name)) ? ';' : ',';
}

function namesOf(header: readonly string[] = []): string[] {
  return header.map((name) => name.trim().toLowerCase());
}

function cellsOf(text: string, separator: string, unusable: Unusable): string[][] {
  try {
    return parse(text, {
      delimiter: separator,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      relax_quotes: true,
      trim: true,
    });
  } catch (thrown) {
    throw unusable('as CSV', wordsOf(thrown));
  }
}
