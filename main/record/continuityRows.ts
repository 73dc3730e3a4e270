import type Database from 'better-sqlite3';
import {
  type ContinuityRun,
  continuityStep,
  continuityTally,
  isContinuityPractice,
} from '../../core/continuity/continuityRun.ts';
import type { ContinuityList, ContinuityListed } from '../../core/contract/continuity.ts';
import { searchable } from './historyConditions.ts';

/** A continuity run as it stands in its table (runTables.ts). */
export interface ContinuityRow extends ContinuityListed {
  /** Place in the record of the last entry that is folded in. */
  upTo: number;
}

/** Columns of the table and where in a row each is from. */
const COLUMNS = {
  run: 'run',
  up_to: 'upTo',
  received_at: 'receivedAt',
  received_ms: 'receivedMs',
  title: 'title',
  drawing: 'drawing',
  serial: 'serial',
  inspector: 'inspector',
  points: 'pointCount',
  as_expected: 'asExpected',
  not_as_expected: 'notAsExpected',
  cannot_tell: 'cannotTell',
  skipped: 'skipped',
  step: 'step',
  disposition: 'disposition',
  decided_at: 'decidedAt',
  decided_by: 'decidedBy',
  reason: 'reason',
  approved_by: 'approvedBy',
  certificates: 'certificates',
  practice: 'simulated',
  search: 'search',
} as const;

type Flat = Record<(typeof COLUMNS)[keyof typeof COLUMNS], string | number | null>;

/** Reads rows of the table as they stand there. */
export const SELECT_CONTINUITY = `SELECT ${Object.entries(COLUMNS).map(([column, key]) => `${column} AS ${key}`)} FROM continuity_run`;

/** What the table of continuity runs answers. It is made of the entries; nothing is decided by it. */
export interface ContinuityRows {
  /** They take the place of the rows there were. */
  keep(rows: readonly ContinuityRow[]): void;
  /** The latest first, of those that have all words of a text in title, drawing, serial number or inspector. */
  list(asked: { text: string; most: number }): ContinuityList;
  count(): number;
}

export function continuityRows(database: Database.Database): ContinuityRows {
  const columns = Object.keys(COLUMNS);
  const insert = database.prepare(
    `INSERT OR REPLACE INTO continuity_run (${columns.join(', ')}) VALUES (${Object.values(COLUMNS).map((key) => `@${key}`)})`,
  );
  const counted = database.prepare('SELECT count(*) FROM continuity_run').pluck();
  return {
    keep: database.transaction((rows: readonly ContinuityRow[]) => {
      for (const row of rows) insert.run(continuityCellsOf(row));
    }),
    count: () => counted.get() as number,
    list({ text, most }) {
      const words = searchable(text)
        .split(/\s+/)
        .filter((word) => word !== '');
      const where = words.map((_, index) => `instr(search, @w${index}) > 0`).join(' AND ') || '1';
      const values = Object.fromEntries(words.map((word, index) => [`w${index}`, word]));
      const rows = database
        .prepare<unknown[], Flat>(`${SELECT_CONTINUITY} WHERE ${where} ORDER BY received_ms DESC, run DESC LIMIT @most`)
        .all({ ...values, most });
      const total = database
        .prepare(`SELECT count(*) FROM continuity_run WHERE ${where}`)
        .pluck()
        .get(values) as number;
      return { runs: rows.map(listedFrom), total };
    },
  };
}

/** A run as the list shows it. */
export function continuityListed(number: number, run: ContinuityRun): ContinuityListed {
  const tally = continuityTally(run);
  const { decided } = run;
  return {
    run: number,
    receivedAt: run.receivedAt,
    title: run.title,
    drawing: run.drawing,
    serial: run.serial,
    inspector: run.inspector,
    pointCount: tally.points,
    asExpected: tally['as-expected'],
    notAsExpected: tally['not-as-expected'],
    cannotTell: tally['cannot-tell'],
    skipped: tally.skipped,
    step: continuityStep(run),
    disposition: decided?.disposition ?? null,
    decidedAt: decided?.at ?? null,
    decidedBy: decided?.by ?? null,
    reason: decided?.reason ?? null,
    approvedBy: decided?.approvedBy ?? null,
    certificates: run.certificates.length,
    simulated: isContinuityPractice(run),
  };
}

/** What is written into the table of a row. */
export function continuityCellsOf(row: ContinuityRow): Flat {
  return {
    ...row,
    receivedMs: Date.parse(row.receivedAt),
    simulated: row.simulated ? 1 : 0,
    search: searchable([row.title, row.drawing, row.serial, row.inspector].join('\n')),
  };
}

function listedFrom({ upTo: _, receivedMs: __, search: ___, ...row }: Flat): ContinuityListed {
  return { ...row, simulated: row.simulated === 1 } as ContinuityListed;
}
