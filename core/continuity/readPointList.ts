import { mustStandOnce, shortened } from '../certificate/givenTable.ts';
import { plainText } from '../certificate/safeText.ts';
import { type SpreadsheetTable, spreadsheetTable } from '../certificate/spreadsheetTable.ts';
import { lineOfText } from '../inspection/text.ts';
import { withDecimalDots } from '../part/decimalComma.ts';
import { Problem, problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import { limitFault } from './limits.ts';
import { contradictionsIn } from './nets.ts';
import { type Expected, type ListedPoint, LONGEST_NAME, MOST_LISTED } from './point.ts';

const NEEDED = ['from', 'to'] as const;
/** The columns of a list of points; only `from` and `to` must be there. */
export const LIST_COLUMNS = ['wire', 'from', 'to', 'expected', 'limit_ohms', 'state', 'note'] as const;
/** Every two terminals are looked at in every state. */
const MOST_STATES = 100;
type ListColumn = (typeof LIST_COLUMNS)[number];

/** What is wrong with a row of a list: in which column, what stands there, and why that is wrong. */
export interface BadPoint {
  /** The number of the row in the file; the header is row 1. */
  row: number;
  /** Null where the row as a whole is wrong. */
  column: ListColumn | null;
  value: string;
  why: string;
}

/** A list, read: its good rows, and all that is wrong with the others. */
export interface PointsRead {
  points: readonly ListedPoint[];
  /** The row of each point. */
  rows: readonly number[];
  bad: readonly BadPoint[];
  /** Columns that mean nothing here and were left alone, as the file names them. */
  unread: readonly string[];
}

const WORDS: Record<string, Expected> = {
  '': 'closed',
  closed: 'closed',
  connected: 'closed',
  c: 'closed',
  '1': 'closed',
  open: 'open',
  isolated: 'open',
  o: 'open',
  '0': 'open',
};

/**
 * Reads a from-to list (see spreadsheetTable): `from` and `to`, the two terminals; `expected`, `closed` (also `connected`, `c`, `1`, or
 * nothing) or `open` (also `isolated`, `o`, `0`); `limit_ohms`, a limit of its own; `state`, how a switch must stand; `wire` and
 * `note`. Columns in any order and case. Every row is judged by itself; a pair that stands there twice in the same state, names that
 * differ only in case, and an open pair that the closed ones connect are faults of the later row. At most 2000 points.
 * @throws problem continuity-list-unreadable where it is no such table
 */
export function readPointList(text: string): PointsRead {
  const table = spreadsheetTable(text, NEEDED, unreadable);
  mustStandOnce(table.columns, LIST_COLUMNS, unreadable);
  if (table.rows.length === 0) throw unreadable('row 2', 'there are no points');
  if (table.rows.length > MOST_LISTED) {
    throw unreadable(`row ${table.rows[MOST_LISTED]?.row}`, `more than ${MOST_LISTED} points; part the list`);
  }
  const points: ListedPoint[] = [];
  const rows: number[] = [];
  const bad: BadPoint[] = [];
  const together = new Together();
  for (const { row, cells } of table.rows) {
    const read = readRow(table, cells);
    const faults = Array.isArray(read) ? read : together.faultsOf(read, row);
    if (!Array.isArray(read) && faults.length === 0) {
      points.push(read);
      rows.push(row);
    } else bad.push(...faults.map((fault) => ({ row, ...fault })));
  }
  if (new Set(points.map(({ state }) => state)).size > MOST_STATES) {
    throw unreadable('the column state', `more than ${MOST_STATES} different states; part the list`);
  }
  const against = contradicted(points, rows);
  const wrong = new Set(against.map(({ row }) => row));
  return {
    points: points.filter((_, index) => !wrong.has(rows[index] as number)),
    rows: rows.filter((row) => !wrong.has(row)),
    bad: [...bad, ...against].sort((a, b) => a.row - b.row),
    unread: table.columns.filter((name) => name !== '' && !LIST_COLUMNS.includes(name as ListColumn)),
  };
}

type Fault = Omit<BadPoint, 'row'>;

function readRow(table: SpreadsheetTable, cells: readonly string[]): ListedPoint | Fault[] {
  const { columns, separator } = table;
  // Spreadsheets write empty cells behind the last column as well, and by hand the last ones are often left out.
  if (cells.slice(columns.length).some((cell) => cell.trim() !== '')) {
    const why = `has ${cells.length} cells instead of ${columns.length}; a cell with a ${separator} in it needs quotes`;
    return [{ column: null, value: '', why }];
  }
  const faults: Fault[] = [];
  const textIn = (column: ListColumn): string => {
    const value = plainText((cells[columns.indexOf(column)] ?? '').trim()).trim();
    const longest = column === 'note' ? 200 : LONGEST_NAME;
    if (!lineOfText.safeParse(value).success || value.length > longest) {
      faults.push({ column, value: shortened(value), why: `must be one line of at most ${longest} characters` });
    }
    return value;
  };
  const [wire, from, to, state, note] = (['wire', 'from', 'to', 'state', 'note'] as const).map(textIn) as [
    string,
    string,
    string,
    string,
    string,
  ];
  if (from === '') faults.push({ column: 'from', value: '', why: 'is empty' });
  if (to === '') faults.push({ column: 'to', value: '', why: 'is empty' });
  if (from !== '' && from === to) faults.push({ column: 'to', value: to, why: 'is the same terminal as from' });
  const word = textIn('expected');
  const expected = WORDS[word.toLowerCase()];
  if (expected === undefined) faults.push({ column: 'expected', value: word, why: 'must be closed or open' });
  const limit = textIn('limit_ohms');
  const limitOhms = limit === '' || expected === undefined ? null : limitIn(limit, separator, expected, faults);
  if (faults.length > 0) return faults;
  return { wire, from, to, expected: expected as Expected, limitOhms, state, note };
}

function limitIn(text: string, separator: string, expected: Expected, faults: Fault[]): DecimalText | null {
  const fault = (why: string): null => {
    faults.push({ column: 'limit_ohms', value: shortened(text), why });
    return null;
  };
  const said = separator === ';' ? withDecimalDots(text) : text;
  if (said === null) {
    return fault('the comma or dot may be a decimal sign or stand between thousands; write it like 4k7 or 4700');
  }
  try {
    const ohms = plain(parseOhms(said));
    const why = limitFault(expected, ohms);
    return why === null ? ohms : fault(why);
  } catch (thrown) {
    if (!(thrown instanceof Problem)) throw thrown;
    return fault('is no resistance; write it like 2, 0.5 or 100k');
  }
}

/** What rows have to fit with those before. */
class Together {
  readonly #rowOfPair = new Map<string, { row: number; expected: Expected }>();
  readonly #spelt = new Map<string, string>();

  faultsOf({ from, to, expected, state }: ListedPoint, row: number): Fault[] {
    for (const [column, terminal] of [
      ['from', from],
      ['to', to],
    ] as const) {
      const before = this.#spelt.get(terminal.toLowerCase());
      if (before !== undefined && before !== terminal) {
        return [
          { column, value: terminal, why: `differs from ${before} above only in capital letters; write it the same` },
        ];
      }
      this.#spelt.set(terminal.toLowerCase(), terminal);
    }
    const key = JSON.stringify([...[from, to].sort(), state]);
    const before = this.#rowOfPair.get(key);
    if (before !== undefined) {
      const why =
        before.expected === expected
          ? `this pair stands in row ${before.row} already`
          : `this pair is to be ${before.expected} in row ${before.row}, and ${expected} here`;
      return [{ column: before.expected === expected ? null : 'expected', value: `${from}, ${to}`, why }];
    }
    this.#rowOfPair.set(key, { row, expected });
    return [];
  }
}

/** Open pairs that closed ones connect. */
function contradicted(points: readonly ListedPoint[], rows: readonly number[]): BadPoint[] {
  return contradictionsIn(points).map((at) => {
    const { from, to, state } = points[at] as ListedPoint;
    const why = `is to be open, but closed points connect ${from} with ${to}${state === '' ? '' : ` in the state "${state}"`}`;
    return { row: rows[at] as number, column: 'expected', value: `${from}, ${to}`, why };
  });
}

function unreadable(where: string, why: string): Problem {
  return problem('continuity-list-unreadable', where, why);
}
