import { setImmediate } from 'node:timers/promises';
import type { LotFigures } from '../../core/contract/contract.ts';
import { withoutStrays } from '../../core/drift/withoutStrays.ts';
import { counts, isPractice, type Run } from '../../core/inspection/run.ts';
import { summaryOf as figuresOf } from '../../core/statistics/summary.ts';
import { isRefused } from '../../core/statistics/values.ts';
import type { GoingOn } from './longWorks.ts';

/** Readings gone through at one go: a meter that is being read meanwhile waits no longer than that. */
const AT_ONE_GO = 20_000;

/**
 * All lots of the part and supplier of a run, in the order they were received, its own among them. Studies are no lots;
 * practice on the simulated bench stands beside practice only, and real readings beside real ones.
 * @param runs all runs of the station, by their number
 * @throws problem work-stopped
 */
export async function lotHistory(
  runs: ReadonlyMap<number, Run>,
  of: Run,
  { tell, throwIfStopped }: Pick<GoingOn, 'tell' | 'throwIfStopped'>,
): Promise<LotFigures[]> {
  const comparable = [...runs].filter(([, run]) => isComparable(run, of));
  const lots: LotFigures[] = [];
  for (const [number, run] of comparable) {
    lots.push(await lotFigures(number, run, throwIfStopped));
    tell({ step: 'lots', done: lots.length, of: comparable.length });
  }
  return lots.sort((a, b) => Date.parse(a.receivedAt) - Date.parse(b.receivedAt) || a.run - b.run);
}

function isComparable(run: Run, of: Run): boolean {
  return (
    run.plan.choice.kind !== 'study' &&
    run.part.number === of.part.number &&
    run.lot.supplier === of.lot.supplier &&
    isPractice(run) === isPractice(of)
  );
}

async function lotFigures(number: number, run: Run, throwIfStopped: () => void): Promise<LotFigures> {
  const ohms: number[] = [];
  for (let from = 0; from < run.readings.size; from += AT_ONE_GO) {
    await setImmediate();
    throwIfStopped();
    for (const one of run.readings.judged(from, from + AT_ONE_GO)) {
      if (counts(one) && one.ohms !== null) ohms.push(Number(one.ohms));
    }
  }
  const { kept, leftOut } = withoutStrays(ohms);
  const found = figuresOf(kept);
  const figures = isRefused(found) ? null : found;
  return {
    run: number,
    lot: run.lot.number,
    receivedAt: run.receivedAt,
    count: kept.length,
    leftOut,
    meanOhms: figures?.mean ?? null,
    standardDeviationOhms: figures?.standardDeviation ?? null,
    disposition: run.decided?.disposition ?? null,
  };
}
