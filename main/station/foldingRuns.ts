import { apply } from '../../core/inspection/apply.ts';
import type { Run } from '../../core/inspection/run.ts';
import { counting, type TellProgress } from '../../core/progress/progress.ts';
import type { Record } from '../record/record.ts';

/** The runs of a record as its entries make them. */
export interface FoldedRuns {
  runs: Map<number, Run>;
  /** Place in the record of the last entry of each run. */
  places: Map<number, number>;
}

/** Entries folded at one go: some hundredths of a second. */
const AT_ONE_GO = 1000;

/**
 * Folds all entries of a record and checks the chain of their hashes on the way. Yields now and then, so that others may come to
 * their turn.
 * @throws problem record-altered
 */
export function* foldingRuns(record: Record, tell: TellProgress): Generator<undefined, FoldedRuns> {
  const runs = new Map<number, Run>();
  const places = new Map<number, number>();
  for (const { run, event, position } of counting(record.entries(), { step: 'entries', of: record.size() }, tell)) {
    runs.set(run, apply(runs.get(run) ?? null, event));
    places.set(run, position);
    if (position % AT_ONE_GO === 0) yield;
  }
  return { runs, places };
}
