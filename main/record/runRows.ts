import type Database from 'better-sqlite3';
import type {
  History,
  HistoryFilters,
  HistoryNames,
  HistoryPage,
  HistoryQuestion,
  HistoryRow,
} from '../../core/contract/history.ts';
import type { LotTrends } from '../../core/contract/lotTrends.ts';
import type { LotOutcome } from '../../core/inspection/lotOutcome.ts';
import type { PracticeResult, PractisedRun } from '../../core/practice/practisedRun.ts';
import { conditionsOf, searchable, whereOf } from './historyConditions.ts';
import { trendsOf } from './lotTrends.ts';
import type { RunRow } from './runRow.ts';

/** Columns of the table `run` and where in a row each is from; `f` stands for the figures. */
const COLUMNS = {
  run: 'run',
  up_to: 'upTo',
  received_at: 'receivedAt',
  received_ms: 'receivedMs',
  part: 'part',
  description: 'description',
  supplier: 'supplier',
  lot: 'lot',
  reel: 'reel',
  inspector: 'inspector',
  nominal_ohms: 'nominalOhms',
  lower_ohms: 'lowerOhms',
  upper_ohms: 'upperOhms',
  lot_size: 'lotSize',
  sample_size: 'sampleSize',
  counted: 'counted',
  nonconforming: 'nonconforming',
  voided: 'voided',
  suspect: 'suspect',
  step: 'step',
  outlook: 'outlook',
  disposition: 'disposition',
  decided_at: 'decidedAt',
  decided_by: 'decidedBy',
  reason: 'reason',
  approved_by: 'approvedBy',
  offered_again_after: 'offeredAgainAfter',
  severity: 'severity',
  study: 'study',
  practice: 'simulated',
  certificates: 'certificates',
  values_counted: 'count',
  left_out: 'leftOut',
  mean_ohms: 'meanOhms',
  sd_ohms: 'standardDeviationOhms',
  lowest_ohms: 'lowestOhms',
  highest_ohms: 'highestOhms',
  ppk: 'ppk',
  outcome: 'outcome',
  practised: 'practised',
  search: 'search',
} as const;

/** Of more names a list says nothing. */
const MOST_NAMES = 1000;

/** A row as it stands in the table. */
type Flat = Record<(typeof COLUMNS)[keyof typeof COLUMNS], string | number | null>;
export type KeptRow = Flat & { upTo: number };

/** Reads rows of the table as {@link KeptRow}. */
export const SELECT_RUN = `SELECT ${Object.entries(COLUMNS).map(([column, key]) => `${column} AS ${key}`)} FROM run`;

/** What the tables of runs answer. They are made of the entries; nothing is decided by them. */
export interface RunRows {
  /** They take the place of the rows there were. */
  keep(rows: readonly RunRow[]): void;
  /** The latest. */
  latest(most: number): HistoryRow[];
  /** The latest that are not decided or on hold. */
  toGoOn(most: number): HistoryRow[];
  count(): number;
  /** The row of a run; null where there is none. */
  of(run: number): HistoryRow | null;
  find(asked: HistoryQuestion): History;
  /** Likewise, without counting all of them. */
  page(asked: HistoryQuestion): HistoryPage;
  /** How many there are of those that are looked for. */
  countOf(asked: HistoryFilters): number;
  /** Parts, suppliers and inspectors there are. */
  names(): HistoryNames;
  /** How the lots went that are looked for. */
  trends(asked: HistoryFilters): LotTrends;
  /** All lots of a part and supplier in the order they were received; on the simulated bench, or on real meters. */
  lotsOf(of: { part: string; supplier: string; simulated: boolean }): HistoryRow[];
  /** How the lots of a part and supplier came out that are accepted or not accepted. */
  outcomesOf(part: string, supplier: string): LotOutcome[];
  /** All runs that are exercises, in order. */
  practised(): PracticeResult[];
  /** Runs of either kind whose row is not up to the last of their entries, or missing. */
  stale(): number[];
}

/** @param size how many entries there are now */
export function runRows(database: Database.Database, size: () => number): RunRows {
  const columns = Object.keys(COLUMNS);
  const insert = database.prepare(
    `INSERT OR REPLACE INTO run (${columns.join(', ')}) VALUES (${Object.values(COLUMNS).map((key) => `@${key}`)})`,
  );
  const query = (rest: string) => database.prepare<unknown[], Flat>(`${SELECT_RUN} ${rest}`);
  const latest = query('ORDER BY run DESC LIMIT ?');
  const undecided = query('WHERE disposition IS NULL ORDER BY received_ms DESC LIMIT ?');
  const one = query('WHERE run = ?');
  const onHold = query("WHERE disposition = 'on-hold' ORDER BY received_ms DESC LIMIT ?");
  const lots = query('WHERE part = ? AND supplier = ? AND practice = ? AND study = 0 ORDER BY received_ms, run');
  const before = database.prepare<[number], { gone: number }>('SELECT voided + suspect AS gone FROM run WHERE run = ?');
  const forget = database.prepare('DELETE FROM withdrawn WHERE run = ?');
  const withdraw = database.prepare(
    'INSERT INTO withdrawn (run, reading, how, why, by, at) VALUES (@run, @reading, @how, @why, @by, @at)',
  );
  const counted = database.prepare('SELECT count(*) FROM run').pluck();
  const outcomes = database
    .prepare<[string, string], string>(
      'SELECT outcome FROM run WHERE part = ? AND supplier = ? AND outcome IS NOT NULL',
    )
    .pluck();
  const exercises = query('WHERE practised IS NOT NULL ORDER BY run');
  const stale = database
    .prepare<[number], number>(
      `WITH s AS (SELECT run, lead(first, 1, ? + 1) OVER (ORDER BY first) - 1 AS last FROM stretch)
       SELECT s.run FROM s LEFT JOIN run r ON r.run = s.run LEFT JOIN continuity_run c ON c.run = s.run
       GROUP BY s.run HAVING max(s.last) > coalesce(max(r.up_to), max(c.up_to), 0)
       ORDER BY s.run`,
    )
    .pluck();

  const keepOne = (row: RunRow) => {
    const isOther = row.voided + row.suspect !== (before.get(row.run)?.gone ?? 0);
    insert.run(cellsOfRow(row));
    if (!isOther) return;
    forget.run(row.run);
    for (const one of row.withdrawn()) withdraw.run({ run: row.run, ...one });
  };

  return {
    keep: database.transaction((rows: readonly RunRow[]) => rows.forEach(keepOne)),
    latest: (most) => latest.all(most).map(rowFrom),
    toGoOn: (most) => [...undecided.all(most), ...onHold.all(most)].map(rowFrom),
    count: () => counted.get() as number,
    of(run) {
      const flat = one.get(run);
      return flat ? rowFrom(flat) : null;
    },
    find: (asked) => ({ ...pageOf(database, asked), total: countOf(database, asked) }),
    page: (asked) => pageOf(database, asked),
    countOf: (asked) => countOf(database, asked),
    names: () => ({
      parts: namesIn(database, 'part'),
      suppliers: namesIn(database, 'supplier'),
      inspectors: namesIn(database, 'inspector'),
    }),
    trends: (asked) => trendsOf(database, asked),
    lotsOf: ({ part, supplier, simulated }) => lots.all(part, supplier, simulated ? 1 : 0).map(rowFrom),
    outcomesOf: (part, supplier) => outcomes.all(part, supplier).map((text) => JSON.parse(text) as LotOutcome),
    practised: () => exercises.all().map(resultFrom),
    stale: () => stale.all(size()),
  };
}

/** What is written into the table of a row. */
export function cellsOfRow({ withdrawn, figures, outcome, practised, ...row }: RunRow): Flat {
  return {
    ...row,
    outcome: outcome && JSON.stringify(outcome),
    practised: practised && JSON.stringify(practised),
    receivedMs: Date.parse(row.receivedAt),
    study: row.study ? 1 : 0,
    simulated: row.simulated ? 1 : 0,
    count: figures?.count ?? null,
    leftOut: figures?.leftOut ?? null,
    meanOhms: figures?.meanOhms ?? null,
    standardDeviationOhms: figures?.standardDeviationOhms ?? null,
    lowestOhms: figures?.lowestOhms ?? null,
    highestOhms: figures?.highestOhms ?? null,
    search: searchable([row.part, row.description, row.lot, row.reel, row.supplier, row.inspector].join('\n')),
  };
}

function rowFrom(flat: Flat): HistoryRow {
  const { upTo, receivedMs, voided, suspect, outcome, practised, search, ...rest } = flat;
  const { count, leftOut, meanOhms, standardDeviationOhms, lowestOhms, highestOhms, ...row } = rest;
  const figures = count === null ? null : { count, leftOut, meanOhms, standardDeviationOhms, lowestOhms, highestOhms };
  return { ...row, study: row.study === 1, simulated: row.simulated === 1, figures } as HistoryRow;
}

function resultFrom(flat: Flat): PracticeResult {
  const { run, inspector, receivedAt, decidedAt, disposition, counted } = flat as unknown as HistoryRow;
  const practised = JSON.parse(String(flat.practised)) as PractisedRun;
  return { run, trainee: inspector, begunAt: receivedAt, decidedAt, disposition, readings: counted, ...practised };
}

function countOf(database: Database.Database, asked: HistoryFilters): number {
  const { wheres, values } = conditionsOf(asked);
  return database
    .prepare(`SELECT count(*) FROM run ${whereOf(wheres)}`)
    .pluck()
    .get(values) as number;
}

function pageOf(database: Database.Database, asked: HistoryQuestion): HistoryPage {
  const { wheres, values } = conditionsOf(asked);
  const isDown = asked.order === 'latest-first';
  const behind = asked.after ? [`(received_ms, run) ${isDown ? '<' : '>'} (@afterMs, @afterRun)`] : [];
  const way = isDown ? 'DESC' : 'ASC';
  const flats = database
    .prepare<unknown[], Flat>(
      `${SELECT_RUN} ${whereOf([...wheres, ...behind])} ORDER BY received_ms ${way}, run ${way} LIMIT @most`,
    )
    .all({ ...values, afterMs: asked.after?.receivedMs, afterRun: asked.after?.run, most: asked.most + 1 });
  const shown = flats.slice(0, asked.most);
  const last = shown.at(-1);
  const next =
    flats.length > asked.most && last ? { receivedMs: Number(last.receivedMs), run: Number(last.run) } : null;
  return { rows: shown.map(rowFrom), next };
}

/** Different texts of a column that is the first of an index, in order: one step down the index for each, not one for each run. */
function namesIn(database: Database.Database, column: 'part' | 'supplier' | 'inspector'): string[] {
  return database
    .prepare<[number], string>(
      `WITH RECURSIVE name (text) AS (
         SELECT min(${column}) FROM run
         UNION ALL
         SELECT (SELECT min(${column}) FROM run WHERE ${column} > text) FROM name WHERE text IS NOT NULL
       )
       SELECT text FROM name WHERE text <> '' LIMIT ?`,
    )
    .pluck()
    .all(MOST_NAMES);
}
