import { csvText } from '../certificate/csv.ts';
import { plainText, safeText } from '../certificate/safeText.ts';
import { Problem, type ProblemCode } from '../problem/problem.ts';
import { counting, TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { preferredAql } from '../sampling/plan.ts';
import { withDecimalDots } from './decimalComma.ts';
import { oddValue } from './oddValue.ts';
import { meaningOf, type Part, part } from './part.ts';
import { ALIKE, columnAt, PART_COLUMNS, type PartColumn, textIn } from './partColumns.ts';
import { type PartsTable, partsTable } from './partsTable.ts';

/** What is wrong with a row of a file of parts: in which column, what stands there, and why that is wrong. */
export interface BadCell {
  /** The number of the row in the file; the header is row 1. */
  row: number;
  /** Null where the row as a whole is wrong. */
  column: string | null;
  value: string;
  why: string;
}

/** A good row of a file of parts. */
export interface GoodRow {
  row: number;
  part: Part;
  /** What is odd about its value, in a sentence; null where nothing is. */
  odd: string | null;
}

/** A file of parts, read: its good rows, and all that is wrong with the others. */
export interface PartsRead {
  good: readonly GoodRow[];
  bad: readonly BadCell[];
  /** Columns that mean nothing here and were left alone, as the file names them. */
  unread: readonly string[];
}

/** Parts as a file of CSV (RFC 4180), all columns, in the order given. No cell of free text can become a formula. */
export function partsFile(parts: readonly Part[], tell: TellProgress = TELL_NOBODY): string {
  const rows = parts.map((known) =>
    PART_COLUMNS.map((column) => {
      const text = textIn(column, known);
      return column.holds === 'text' ? safeText(text) : text;
    }),
  );
  return csvText([PART_COLUMNS.map(({ name }) => name), ...rows], tell);
}

/**
 * Reads a file of parts (see partsTable). The columns `part` and `tolerance` must be there; others are as in the receiving form
 * where they are not there or empty. Every row is judged by itself.
 * @param tell told of rows as they are read
 * @throws problem parts-file-unreadable
 */
export function readPartsFile(text: string, tell: TellProgress = TELL_NOBODY): PartsRead {
  const table = partsTable(text);
  const known = new Set(PART_COLUMNS.map(({ name }) => name));
  const rowOf = new Map<string, number>();
  const good: GoodRow[] = [];
  const bad: BadCell[] = [];
  for (const { row, cells } of counting(table.rows, { step: 'rows-read', of: table.rows.length }, tell)) {
    const read = readRow(table, cells);
    if ('faults' in read) {
      bad.push(...read.faults.map((fault) => ({ row, ...fault })));
      continue;
    }
    const { number } = read.part;
    const before = rowOf.get(number);
    if (before === undefined) good.push({ row, ...read });
    else bad.push({ row, column: 'part', value: number, why: `stands in row ${before} already` });
    rowOf.set(number, before ?? row);
  }
  const unread = table.columns.filter((name) => name !== '' && !known.has(name));
  return { good, bad, unread };
}

type Fault = Omit<BadCell, 'row'>;

function readRow(table: PartsTable, cells: readonly string[]): Omit<GoodRow, 'row'> | { faults: Fault[] } {
  const { columns } = table;
  // Spreadsheets write empty cells behind the last column as well.
  const isLonger = cells.slice(columns.length).some((cell) => cell.trim() !== '');
  if (isLonger || cells.length < columns.length) {
    const why = `has ${cells.length} cells instead of ${columns.length}; a cell with a ${table.separator} in it needs quotes`;
    return { faults: [{ column: null, value: '', why }] };
  }
  const faults: Fault[] = [];
  const texts = new Map<PartColumn, string>();
  for (const column of PART_COLUMNS) {
    const cell = cells[columns.indexOf(column.name)] ?? '';
    const text = textOf(column, cell, table.separator);
    if (text === null) {
      const sign = cell.includes(',') ? 'comma' : 'dot';
      const why = `the ${sign} may be a decimal sign or stand between thousands; write it so that it says one thing only, like 4k7, 4700 or 4,7000`;
      faults.push({ column: column.name, value: cell, why });
    } else if (text !== '') texts.set(column, text);
  }
  faults.push(...contradictions(texts));
  if (faults.length > 0) return { faults };
  const read = part.safeParse(partGiven(texts));
  if (!read.success) return { faults: faultsOf(read.error.issues, texts) };
  const meant = meaningIn(read.data, texts);
  return 'why' in meant ? { faults: [meant] } : { part: read.data, odd: meant.odd };
}

const HAS_NUMBERS: ReadonlySet<string> = new Set(['nominal', 'tolerance', 'process_spread', 'variables_known_spread']);
const AQL_COLUMNS: ReadonlySet<string> = new Set(['aql', 'variables_aql']);

/** What a cell says; null where a comma or dot in it could mean two things. */
function textOf(column: PartColumn, cell: string, separator: string): string | null {
  const text = (column.holds === 'text' ? plainText(cell) : cell).trim();
  const isNumber = column.holds === 'number' || AQL_COLUMNS.has(column.name) || HAS_NUMBERS.has(column.name);
  const said = separator === ';' && isNumber ? withDecimalDots(text) : text;
  return AQL_COLUMNS.has(column.name) && said !== null ? asTabulated(said) : said;
}

/** An AQL as the standard spells it: a spreadsheet makes `1` of `1.0`, and the part would seem to change. */
function asTabulated(aql: string): string {
  try {
    return preferredAql(aql);
  } catch {
    return aql;
  }
}

/** Groups of columns of which a part can have only one, by where they stand in a part, in the order its schema has them. */
const ONE_OF: readonly { at: string; groups: readonly (readonly string[])[] }[] = [
  {
    at: 'plan',
    groups: [
      ['aql', 'level', 'standard', 'sampling'],
      ['sample_size', 'accept'],
      namesUnder('zero_acceptance_'),
      namesUnder('two_point_'),
      namesUnder('variables_'),
      ['every_piece_accept'],
    ],
  },
  {
    at: 'plan.variables',
    groups: [
      ['variables_aql', 'variables_level', 'variables_severity'],
      namesUnder('variables_').filter((name) => !/_(aql|level|severity)$/.test(name)),
    ],
  },
  {
    at: 'temperature.coefficient',
    groups: [['tcr_ppm_per_k', 'tcr_within_ppm_per_k'], ['tcr_limit_ppm_per_k']],
  },
];

function namesUnder(beginning: string): string[] {
  return PART_COLUMNS.map(({ name }) => name).filter((name) => name.startsWith(beginning));
}

function contradictions(texts: ReadonlyMap<PartColumn, string>): Fault[] {
  return ONE_OF.flatMap(({ groups }) => {
    const [one, other] = groups.flatMap((names) => givenOf(names, texts) ?? []);
    if (one === undefined || other === undefined) return [];
    return [{ column: other, value: valueIn(other, texts), why: `does not go with ${one}; give one or the other` }];
  });
}

/** The first of these columns that is filled in. */
function givenOf(names: readonly string[], texts: ReadonlyMap<PartColumn, string>): string | undefined {
  return names.find((name) => [...texts.keys()].some((column) => column.name === name));
}

/** The part as the row gives it, for the schema to judge. */
function partGiven(texts: ReadonlyMap<PartColumn, string>): object {
  const given: Record<string, unknown> = {};
  for (const [{ path, name, holds }, text] of texts) {
    let group = given;
    for (const field of path.slice(0, -1)) {
      group[field] ??= {};
      group = group[field] as Record<string, unknown>;
    }
    const isCount = holds === 'whole number' || name === 'integration_cycles';
    group[path.at(-1) as string] = isCount ? numberOf(text) : text;
  }
  if (valueIn('class_a_accept', texts) === ALIKE) given.classA = null;
  return given;
}

/** Not a number where it is not one in plain decimals: `0x10` and `1e2` are none that somebody means. */
const numberOf = (text: string): number => (/^\d{1,12}(\.\d{1,12})?$/.test(text) ? Number(text) : Number.NaN);

interface Issue {
  path: readonly PropertyKey[];
  message: string;
  code?: string | undefined;
  errors?: readonly (readonly Issue[])[];
}

function faultsOf(issues: readonly Issue[], texts: ReadonlyMap<PartColumn, string>): Fault[] {
  const found = issues.flatMap((issue) => {
    if (issue.code === 'invalid_union') {
      const branch = issue.errors?.[branchMeant(issue.path, texts)] ?? [];
      const inner = branch.map((each) => ({ ...each, path: [...issue.path, ...each.path] }));
      if (inner.length > 0) return faultsOf(inner, texts);
    }
    const column = columnAt(issue.path) ?? firstUnder(issue.path);
    const value = column ? (texts.get(column) ?? '') : '';
    return [{ column: column?.name ?? null, value, why: whyOf(column, value, issue.message) }];
  });
  // One fault of a column says enough; in the order of the columns.
  const at = ({ column }: Fault) => PART_COLUMNS.findIndex(({ name }) => name === column);
  return [...new Map(found.toReversed().map((each) => [each.column, each])).values()].sort((a, b) => at(a) - at(b));
}

/** Which of the shapes of a plan or a coefficient is meant. */
function branchMeant(path: readonly PropertyKey[], texts: ReadonlyMap<PartColumn, string>): number {
  const { groups } = ONE_OF.find(({ at }) => at === path.join('.')) ?? { groups: [] };
  return Math.max(
    0,
    groups.findIndex((names) => givenOf(names, texts) !== undefined),
  );
}

function firstUnder(path: readonly PropertyKey[]): PartColumn | null {
  const group = `${path.join('.')}.`;
  return PART_COLUMNS.find((column) => column.path.join('.').startsWith(group)) ?? null;
}

function whyOf(column: PartColumn | null, value: string, message: string): string {
  if (!column) return message;
  if (value === '') return `is empty, expected ${column.expects}`;
  return column.holds === 'text' ? message : `is not ${column.expects}`;
}

/** The column each problem of what a part means is told under. */
const COLUMN_OF_PROBLEM: Partial<Record<ProblemCode, string>> = {
  'resistance-unreadable': 'nominal',
  'nominal-outside-window': 'nominal',
  'window-without-nominal': 'nominal',
  'spread-unreadable': 'process_spread',
  'aql-unknown': 'aql',
  'aql-not-percent': 'aql',
  'lot-empty': 'sample_size',
  'sample-larger-than-lot': 'sample_size',
  'acceptance-number-impossible': 'accept',
  'double-not-known': 'sampling',
  'quality-percent-impossible': 'zero_acceptance_refused_percent',
  'points-not-apart': 'two_point_refused_percent',
  'plan-too-large': 'two_point_refused_percent',
  'variables-aql-unknown': 'variables_aql',
  'variables-plan-unconfirmed': 'variables_aql',
  'variables-points-impossible': 'variables_refused_percent',
};

/** What is odd about a part whose fields are well formed, or what makes no sense of it. */
function meaningIn(read: Part, texts: ReadonlyMap<PartColumn, string>): Pick<GoodRow, 'odd'> | Fault {
  try {
    const { window, part: itself } = meaningOf(read);
    return { odd: oddValue({ window, tolerance: itself.tolerance }) };
  } catch (thrown) {
    if (!(thrown instanceof Problem)) throw thrown;
    const column = COLUMN_OF_PROBLEM[thrown.code] ?? 'tolerance';
    return { column, value: valueIn(column, texts), why: `${thrown.what}. ${thrown.toDo}` };
  }
}

function valueIn(name: string, texts: ReadonlyMap<PartColumn, string>): string {
  return [...texts].find(([column]) => column.name === name)?.[1] ?? '';
}
