import { parse } from 'csv-parse/browser/esm/sync';
import { shortened } from '../certificate/givenTable.ts';
import { type Problem, problem, wordsOf } from '../problem/problem.ts';
import { MOST_PARTS } from './part.ts';
import { PART_COLUMNS } from './partColumns.ts';

/** A file of parts, cut into cells. */
export interface PartsTable {
  /** What stands between two cells. With a semicolon a number may have a decimal comma. */
  separator: ',' | ';';
  /** Names of the columns, trimmed and in lower case. */
  columns: readonly string[];
  /** The rows that are not blank, each with its number in the file; the header is row 1. */
  rows: readonly { row: number; cells: readonly string[] }[];
}

const NEEDED = ['part', 'tolerance'] as const;

/**
 * Cuts a file of parts into cells: RFC 4180, with a comma or, as spreadsheets write where the comma is the decimal sign, a
 * semicolon between columns; any line ends, blank rows left out. A quote within a cell that does not begin with one is a character
 * like others, as in `reel of 7"`. A row with too few or too many cells is for whoever reads it.
 * @throws problem parts-file-unreadable where it is no such table, has no column `part` or `tolerance`, one twice, no rows or
 *   more than 20 000
 */
export function partsTable(text: string): PartsTable {
  const given = text.replace(/^\ufeff/, '');
  const separator = separatorOf(given);
  const [header, ...rest] = cellsOf(given, separator);
  const columns = namesOf(header);
  checkColumns(columns);
  const rows = rest
    .map((cells, index) => ({ row: index + 2, cells }))
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  if (rows.length === 0) throw unreadable('row 2', 'there are no parts');
  if (rows.length > MOST_PARTS) throw unreadable(`row ${rows[MOST_PARTS]?.row}`, `more than ${MOST_PARTS} parts`);
  return { separator, columns, rows };
}

/** What stands between the names of the first row; a name may have the other of the two in it. */
function separatorOf(text: string): ',' | ';' {
  const header = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  if (!header.includes(';')) return ',';
  if (!header.includes(',')) return ';';
  const names = namesOf(cellsOf(header, ';')[0]);
  return NEEDED.every((name) => names.includes(name)) ? ';' : ',';
}

function namesOf(header: readonly string[] = []): string[] {
  return header.map((name) => name.trim().toLowerCase());
}

function cellsOf(text: string, separator: string): string[][] {
  try {
    return parse(text, {
      delimiter: separator,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      relax_quotes: true,
      trim: true,
    });
  } catch (thrown) {
    throw unreadable('as CSV', wordsOf(thrown));
  }
}

function checkColumns(columns: readonly string[]): void {
  const missing = NEEDED.filter((name) => !columns.includes(name));
  if (missing.length > 0) {
    throw unreadable('row 1', `there is no column ${missing.join(', ')}; it names "${shortened(columns.join(', '))}"`);
  }
  const twice = PART_COLUMNS.find(({ name }) => columns.indexOf(name) !== columns.lastIndexOf(name));
  if (twice) throw unreadable('row 1', `the column ${twice.name} is there twice`);
}

function unreadable(where: string, why: string): Problem {
  return problem('parts-file-unreadable', where, why);
}
