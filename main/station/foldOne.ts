import type { Entry } from '../../core/contract/contract.ts';
import { apply } from '../../core/inspection/apply.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';

/**
 * The run after one more entry as the record has it. What no station has ever written in that order is not folded: a run begins once,
 * and its readings are numbered one after the other, so none is missing.
 * @throws problem record-altered
 */
export function foldOne(run: Run | null, { event, position }: Entry): Run {
  const isFirst = event.type === 'lot-received';
  const isNext = event.type !== 'reading-taken' || event.reading === (run?.readings.size ?? 0) + 1;
  if (isFirst !== (run === null) || !isNext) throw problem('record-altered', position);
  return apply(run, event);
}
