import { mustStandOnce } from '../certificate/givenTable.ts';
import { type SpreadsheetTable, spreadsheetTable } from '../certificate/spreadsheetTable.ts';
import { type Problem, problem } from '../problem/problem.ts';
import { MOST_PARTS } from './part.ts';
import { PART_COLUMNS } from './partColumns.ts';

/** A file of parts, cut into cells. */
export type PartsTable = SpreadsheetTable;

const NEEDED = ['part', 'tolerance'] as const;

/**
 * Cuts a file of parts into cells (see spreadsheetTable). A row with too few or too many cells is for whoever reads it.
 * @throws problem parts-file-unreadable where it is no such table, has no column `part` or `tolerance`, one twice, no rows or
 *   more than 20 000
 */
export function partsTable(text: string): PartsTable {
  const table = spreadsheetTable(text, NEEDED, unreadable);
  mustStandOnce(
    table.columns,
    PART_COLUMNS.map(({ name }) => name),
    unreadable,
  );
  const { rows } = table;
  if (rows.length === 0) throw unreadable('row 2', 'there are no parts');
  if (rows.length > MOST_PARTS) throw unreadable(`row ${rows[MOST_PARTS]?.row}`, `more than ${MOST_PARTS} parts`);
  return table;
}

function unreadable(where: string, why: string): Problem {
  return problem('parts-file-unreadable', where, why);
}
