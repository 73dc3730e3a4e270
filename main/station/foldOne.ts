import { applyContinuity } from '../../core/continuity/apply.ts';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import type { ContinuityEntry, Entry, RecordEntry } from '../../core/contract/contract.ts';
import { isContinuityEvent } from '../../core/contract/recordEvent.ts';
import { apply } from '../../core/inspection/apply.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';

/** What of an entry is folded, and for a message its run. */
type Folded = Pick<RecordEntry, 'event' | 'position'> & Partial<Pick<RecordEntry, 'run'>>;

/**
 * The run after one more entry as the record has it. What no station has ever written in that order is not folded: a run begins once,
 * and its readings are numbered one after the other, so none is missing.
 * @throws problems record-altered; continuity-not-such-a-run where the run is a continuity run
 */
export function foldOne(run: Run | null, entry: Folded): Run {
  if (!isOfInspection(entry)) throw otherKind(run === null, entry);
  const { event, position } = entry;
  const isFirst = event.type === 'lot-received';
  const isNext = event.type !== 'reading-taken' || event.reading === (run?.readings.size ?? 0) + 1;
  if (isFirst !== (run === null) || !isNext) throw problem('record-altered', position);
  return apply(run, event);
}

/** Likewise of a continuity run. @throws problems record-altered; continuity-not-such-a-run where it is none */
export function foldContinuity(run: ContinuityRun | null, entry: Folded): ContinuityRun {
  if (!isOfContinuity(entry)) throw otherKind(run === null, entry);
  const { event, position } = entry;
  const isFirst = event.type === 'continuity-received';
  const isNext = event.type !== 'continuity-point-read' || event.reading === (run?.readings.size ?? 0) + 1;
  if (isFirst !== (run === null) || !isNext) throw problem('record-altered', position);
  return applyContinuity(run, event);
}

export function isOfInspection<T extends Pick<RecordEntry, 'event'>>(entry: T): entry is T & Pick<Entry, 'event'> {
  return !isContinuityEvent(entry.event);
}

export function isOfContinuity<T extends Pick<RecordEntry, 'event'>>(
  entry: T,
): entry is T & Pick<ContinuityEntry, 'event'> {
  return isContinuityEvent(entry.event);
}

/** A run that begins as one of another kind was asked for by mistake; one that goes on as another kind no station has written. */
function otherKind(isFirst: boolean, { run = 0, position }: Folded) {
  return isFirst ? problem('continuity-not-such-a-run', run) : problem('record-altered', position);
}
