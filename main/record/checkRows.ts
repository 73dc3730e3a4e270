import { isDeepStrictEqual } from 'node:util';
import type Database from 'better-sqlite3';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { foldContinuity, foldOne } from '../station/foldOne.ts';
import { type ContinuityRow, continuityCellsOf, continuityListed, SELECT_CONTINUITY } from './continuityRows.ts';
import { entryOf, entryRows } from './entryRows.ts';
import { type RunRow, rowOf } from './runRow.ts';
import { cellsOfRow, type KeptRow, SELECT_RUN } from './runRows.ts';
import { type Stretch, Stretches } from './stretches.ts';

/** The row of a run as it stands in the file, and the readings that do not count any more, of one moment. */
interface Kept {
  row: KeptRow;
  withdrawn: unknown[];
  /** Place of the last entry at that moment. */
  end: number;
}

/**
 * Compares the tables of runs with the entries they are made of: by them lots are found, and lots received later are switched. A
 * row that is missing, or not up to the last entry, is no fault, since the next start makes it; each is compared as of the entry it says it
 * is up to, so a station may be writing meanwhile.
 * @param end place of the last entry; all of them were checked @throws problem record-rows-altered
 */
export function checkRows(database: Database.Database, end: number, tell: TellProgress): void {
  const stretches = new Stretches(database);
  const numbers = database.prepare('SELECT run FROM run UNION SELECT run FROM withdrawn ORDER BY 1').pluck().all();
  const ofRun = database.prepare<[number], KeptRow>(`${SELECT_RUN} WHERE run = ?`);
  const ofReadings = database.prepare('SELECT reading, how, why, by, at FROM withdrawn WHERE run = ? ORDER BY reading');
  const last = database.prepare('SELECT coalesce(max(position), 0) FROM entry').pluck();
  const keptOf = database.transaction((run: number): Kept | null => {
    const row = ofRun.get(run);
    return row ? { row, withdrawn: ofReadings.all(run), end: last.get() as number } : null;
  });
  for (const [index, number] of (numbers as number[]).entries()) {
    const kept = keptOf(number);
    // A row that a station has made since is of entries that were not checked.
    if (kept === null || kept.row.upTo <= end || kept.row.upTo > kept.end) {
      const made = kept && rowUpTo(database, number, stretches.of(number, end), kept.row.upTo);
      if (!made || !isOf(kept, made)) throw problem('record-rows-altered', number);
    }
    tell({ step: 'lots', done: index + 1, of: numbers.length });
  }
  checkContinuityRows(database, stretches, end);
}

/** Likewise of continuity runs. */
function checkContinuityRows(database: Database.Database, stretches: Stretches, end: number): void {
  const numbers = database.prepare<[], number>('SELECT run FROM continuity_run ORDER BY run').pluck().all();
  const ofRun = database.prepare<[number], ReturnType<typeof continuityCellsOf>>(`${SELECT_CONTINUITY} WHERE run = ?`);
  for (const number of numbers) {
    const row = ofRun.get(number);
    const upTo = Number(row?.upTo ?? 0);
    // A row that a station has made since is of entries that were not checked.
    if (upTo > end) continue;
    const made = continuityRowUpTo(database, number, stretches.of(number, end), upTo);
    if (!made || !isDeepStrictEqual({ ...row }, continuityCellsOf(made))) throw problem('record-rows-altered', number);
  }
}

/** The row that the entries of a continuity run give, up to one of them; null where that is none of them. */
function continuityRowUpTo(
  database: Database.Database,
  number: number,
  stretches: readonly Stretch[],
  upTo: number,
): ContinuityRow | null {
  let run: ContinuityRun | null = null;
  let position = 0;
  for (const { first, last } of stretches) {
    if (first > upTo) break;
    for (const row of entryRows(database, { from: first, upTo: Math.min(last, upTo), after: null })) {
      run = foldContinuity(run, entryOf(row));
      ({ position } = row);
    }
  }
  return run !== null && position === upTo ? { ...continuityListed(number, run), upTo } : null;
}

/** The row that the entries of a run give, up to one of them; null where that is none of them. */
function rowUpTo(
  database: Database.Database,
  number: number,
  stretches: readonly Stretch[],
  upTo: number,
): RunRow | null {
  let run: Run | null = null;
  let position = 0;
  for (const { first, last } of stretches) {
    if (first > upTo) break;
    for (const row of entryRows(database, { from: first, upTo: Math.min(last, upTo), after: null })) {
      run = foldOne(run, entryOf(row));
      ({ position } = row);
    }
  }
  return run !== null && position === upTo ? rowOf(number, run, upTo) : null;
}

function isOf({ row, withdrawn }: Kept, made: RunRow): boolean {
  return (
    isDeepStrictEqual({ ...row }, cellsOfRow(made)) && isDeepStrictEqual(plain(withdrawn), plain(made.withdrawn()))
  );
}

/** Whatever the objects are that a library makes. */
function plain(rows: readonly unknown[]): unknown {
  return JSON.parse(JSON.stringify(rows));
}
