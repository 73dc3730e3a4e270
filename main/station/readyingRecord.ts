import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem } from '../../core/problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../../core/progress/progress.ts';
import { type ContinuityRow, continuityListed } from '../record/continuityRows.ts';
import type { Record } from '../record/record.ts';
import { type RunRow, rowOf } from '../record/runRow.ts';
import { foldContinuity, foldOne, isOfContinuity } from './foldOne.ts';

/** Entries folded at one go: some thousandths of a second. */
const AT_ONE_GO = 1000;

/**
 * What is done at each start before a station answers: what was added since the record was checked last is checked, and the rows of
 * runs are made which are not up to their entries: those that were under way where the process was killed, or all of them where
 * the tables of runs were made anew. Yields now and then, so that others may come to their turn.
 * @throws problem record-altered
 */
export function* readyingRecord(record: Record, tell: TellProgress = TELL_NOBODY): Generator<undefined, void> {
  yield* record.checkingTail(tell);
  const stale = record.rows.stale();
  let of = 0;
  for (const number of stale) of += record.extentOf(number)?.count ?? 0;
  let done = 0;
  let rows: RunRow[] = [];
  let continuity: ContinuityRow[] = [];
  const keep = () => {
    try {
      record.rows.keep(rows);
      record.continuity.keep(continuity);
    } catch (thrown) {
      // A full disk: lots are found as far as their rows are there, and the next start makes them.
      process.emitWarning(asProblem(thrown));
    }
    rows = [];
    continuity = [];
  };
  for (const number of stale) {
    let run: Run | null = null;
    let wiring: ContinuityRun | null = null;
    let position = 0;
    for (const entry of record.entries(number)) {
      if (run === null && isOfContinuity(entry)) wiring = foldContinuity(wiring, entry);
      else run = foldOne(run, entry);
      ({ position } = entry);
      done++;
      if (done % AT_ONE_GO !== 0) continue;
      keep();
      tell({ step: 'entries', done, of });
      yield;
    }
    if (wiring) continuity.push({ ...continuityListed(number, wiring), upTo: position });
    const row = run && rowOf(number, run, position);
    if (row) rows.push(row);
  }
  keep();
}
