import type Database from 'better-sqlite3';
import type { History, HistoryQuestion, HistoryRow } from '../../core/contract/history.ts';
import type { LotOutcome } from '../../core/inspection/lotOutcome.ts';
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
  search: 'search',
} as const;

type Flat = Record<(typeof COLUMNS)[keyof typeof COLUMNS], string | number | null>;

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
  /** All lots of a part and supplier in the order they were received; on the simulated bench, or on real meters. */
  lotsOf(of: { part: string; supplier: string; simulated: boolean }): HistoryRow[];
  /** How the lots of a part and supplier came out that are accepted or not accepted. */
  outcomesOf(part: string, supplier: string): LotOutcome[];
  /** Runs whose row is not up to the last of their entries, or missing. */
  stale(): number[];
}

/** @param size how many entries there are now */
export function runRows(database: Database.Database, size: () => number): RunRows {
  const columns = Object.keys(COLUMNS);
  const insert = database.prepare(
    `INSERT OR REPLACE INTO run (${columns.join(', ')}) VALUES (${Object.values(COLUMNS).map((key) => `@${key}`)})`,
  );
  const select = `SELECT ${Object.entries(COLUMNS).map(([column, key]) => `${column} AS ${key}`)} FROM run`;
  const query = (rest: string) => database.prepare<unknown[], Flat>(`${select} ${rest}`);
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
  const stale = database
    .prepare<[number], number>(
      `WITH s AS (SELECT run, lead(first, 1, ? + 1) OVER (ORDER BY first) - 1 AS last FROM stretch)
       SELECT s.run FROM s LEFT JOIN run r ON r.run = s.run GROUP BY s.run HAVING max(s.last) > coalesce(max(r.up_to), 0)
       ORDER BY s.run`,
    )
    .pluck();

  const keepOne = (row: RunRow) => {
    const isOther = row.voided + row.suspect !== (before.get(row.run)?.gone ?? 0);
    insert.run(flatOf(row));
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
    find: (asked) => found(database, select, asked),
    lotsOf: ({ part, supplier, simulated }) => lots.all(part, supplier, simulated ? 1 : 0).map(rowFrom),
    outcomesOf: (part, supplier) => outcomes.all(part, supplier).map((text) => JSON.parse(text) as LotOutcome),
    stale: () => stale.all(size()),
  };
}

function flatOf({ withdrawn, figures, outcome, ...row }: RunRow): Flat {
  return {
    ...row,
    outcome: outcome && JSON.stringify(outcome),
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

/** As texts are compared: in one form of Unicode and without capitals. */
function searchable(text: string): string {
  return text.normalize('NFKC').toLowerCase();
}

function rowFrom(flat: Flat): HistoryRow {
  const { upTo, receivedMs, nominalOhms, lowerOhms, upperOhms, voided, suspect, outcome, search, ...rest } = flat;
  const { count, leftOut, meanOhms, standardDeviationOhms, lowestOhms, highestOhms, ...row } = rest;
  const figures = count === null ? null : { count, leftOut, meanOhms, standardDeviationOhms, lowestOhms, highestOhms };
  return { ...row, study: row.study === 1, simulated: row.simulated === 1, figures } as HistoryRow;
}

function found(database: Database.Database, select: string, asked: HistoryQuestion): History {
  const { wheres, values } = conditionsOf(asked);
  const where = (conditions: readonly string[]) => (conditions.length === 0 ? '' : `WHERE ${conditions.join(' AND ')}`);
  const total = database
    .prepare(`SELECT count(*) FROM run ${where(wheres)}`)
    .pluck()
    .get(values) as number;
  const isDown = asked.order === 'latest-first';
  const behind = asked.after ? [`(received_ms, run) ${isDown ? '<' : '>'} (@afterMs, @afterRun)`] : [];
  const way = isDown ? 'DESC' : 'ASC';
  const flats = database
    .prepare<unknown[], Flat>(
      `${select} ${where([...wheres, ...behind])} ORDER BY received_ms ${way}, run ${way} LIMIT @most`,
    )
    .all({ ...values, afterMs: asked.after?.receivedMs, afterRun: asked.after?.run, most: asked.most + 1 });
  const shown = flats.slice(0, asked.most);
  const last = shown.at(-1);
  const next =
    flats.length > asked.most && last ? { receivedMs: Number(last.receivedMs), run: Number(last.run) } : null;
  return { rows: shown.map(rowFrom), next, total };
}

function conditionsOf(asked: HistoryQuestion): { wheres: string[]; values: Record<string, string | number> } {
  const wheres: string[] = [];
  const values: Record<string, string | number> = {};
  const add = (name: string, condition: string, value: string | number | undefined) => {
    if (value === undefined) return;
    wheres.push(condition);
    values[name] = value;
  };
  add('part', 'part = @part', asked.part);
  add('supplier', 'supplier = @supplier', asked.supplier);
  add('lot', 'lot = @lot', asked.lot);
  add('inspector', 'inspector = @inspector', asked.inspector);
  add('text', 'instr(search, @text) > 0', asked.text === undefined ? undefined : searchable(asked.text));
  if (asked.disposition === 'undecided') wheres.push('disposition IS NULL');
  else add('disposition', 'disposition = @disposition', asked.disposition);
  add('from', 'received_ms >= @from', asked.from && startOfDay(asked.from, 0));
  add('to', 'received_ms < @to', asked.to && startOfDay(asked.to, 1));
  add('practice', 'practice = @practice', asked.practice === undefined ? undefined : Number(asked.practice));
  add('study', 'study = @study', asked.study === undefined ? undefined : Number(asked.study));
  return { wheres, values };
}

/** When a day like `2026-03-02` begins by this computer's clock, or so many days after it; milliseconds since 1970. */
function startOfDay(day: string, daysAfter: number): number {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  return new Date(year, month - 1, date + daysAfter).getTime();
}
