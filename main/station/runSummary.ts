import type { RunSummary } from '../../core/contract/contract.ts';
import { outlook, wantedPieces } from '../../core/inspection/outlook.ts';
import { isPractice, type Run, stepOf } from '../../core/inspection/run.ts';

/** A run as it stands in the station's list. */
export function summaryOf(number: number, run: Run): RunSummary {
  return {
    run: number,
    receivedAt: run.receivedAt,
    inspector: run.inspector,
    part: run.part.number,
    lot: run.lot.number,
    supplier: run.lot.supplier,
    lotSize: run.lot.size,
    counted: run.tally.counted,
    sampleSize: wantedPieces(run),
    nonconforming: run.tally.nonconforming,
    step: stepOf(run),
    outlook: outlook(run),
    disposition: run.decided?.disposition ?? null,
    study: run.plan.choice.kind === 'study',
    simulated: isPractice(run),
  };
}
