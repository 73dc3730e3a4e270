import type { Answers, CheckedQuestion } from '../../core/contract/contract.ts';
import type { Series } from '../../core/inspection/lotClaim.ts';
import type { LotOutcome } from '../../core/inspection/lotOutcome.ts';
import { seriesOf } from '../../core/inspection/seriesOf.ts';

/** Where the outcomes of lots come from: those of a part and supplier. */
export type OutcomesOf = (part: string, supplier: string) => readonly LotOutcome[];

/** How inspection of the lots of a part and supplier stands, for whoever asks before a lot is received. */
export function seriesAsked(
  outcomesOf: OutcomesOf,
  { part, supplier, lot, reel, standard }: CheckedQuestion<'series'>,
): Answers['series'] {
  const outcomes = outcomesOf(part, supplier);
  return { series: seriesOf(outcomes, { standard, lot, reel }), shape: shapeWords(outcomes) };
}

/** The series that a lot as claimed belongs to. */
export function seriesOfClaim(
  outcomesOf: OutcomesOf,
  { part, lot, plan }: CheckedQuestion<'receive-lot'>['claim'],
): Series {
  const standard = 'aql' in plan ? plan.standard : 'MIL-STD-105E';
  return seriesOf(outcomesOf(part.number, lot.supplier), { standard, lot: lot.number, reel: lot.reel });
}

/** What the lot that was decided last says to sampling by variables. */
function shapeWords(outcomes: readonly LotOutcome[]): string | null {
  const last = outcomes
    .filter(({ practice }) => !practice)
    .sort((a, b) => Date.parse(a.decidedAt) - Date.parse(b.decidedAt) || a.run - b.run)
    .at(-1);
  return last?.shape ? `The lot before, ${last.lot}: ${last.shape}` : null;
}
