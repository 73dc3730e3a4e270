import type { LotFigures } from '../../core/contract/contract.ts';
import { withoutStrays } from '../../core/drift/withoutStrays.ts';
import { counts, isPractice, type Run } from '../../core/inspection/run.ts';
import { summaryOf as figuresOf } from '../../core/statistics/summary.ts';
import { isRefused } from '../../core/statistics/values.ts';

/**
 * All lots of the part and supplier of a run, in the order they were received, its own among them. Studies are no lots;
 * practice on the simulated bench stands beside practice only, and real readings beside real ones.
 * @param runs all runs of the station, by their number
 */
export function lotHistory(runs: ReadonlyMap<number, Run>, of: Run): LotFigures[] {
  return [...runs]
    .filter(([, run]) => isComparable(run, of))
    .map(([number, run]) => lotFigures(number, run))
    .sort((a, b) => Date.parse(a.receivedAt) - Date.parse(b.receivedAt) || a.run - b.run);
}

function isComparable(run: Run, of: Run): boolean {
  return (
    run.plan.choice.kind !== 'study' &&
    run.part.number === of.part.number &&
    run.lot.supplier === of.lot.supplier &&
    isPractice(run) === isPractice(of)
  );
}

function lotFigures(number: number, run: Run): LotFigures {
  const ohms: number[] = [];
  for (const reading of run.readings) if (counts(reading) && reading.ohms !== null) ohms.push(Number(reading.ohms));
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
