import type { Standard } from './singlePlan.ts';
import { acceptedInARow, type Standing } from './standing.ts';
import type { LimitNumber, SwitchingLot } from './switching.ts';

/** Lots accepted in a row (MIL-STD-105E, 4.7.3 a), or the switching score (ISO 2859-1:1999, 9.3.3.1), that reduced inspection takes. */
export const LOTS_FOR_REDUCED = 10;
export const SCORE_FOR_REDUCED = 30;

/** Whether reduced inspection is allowed by the record, and what that rests on. */
export type Reduced =
  | { kind: 'score'; score: number; allowed: boolean }
  | { kind: 'too-few-lots'; allowed: false }
  | { kind: 'no-table'; allowed: false }
  | { kind: 'aqls-differ'; allowed: false }
  | { kind: 'too-few-units'; allowed: false; units: number; lots: number }
  | { kind: 'limit-number'; allowed: boolean; nonconforming: number; limit: number; units: number; lots: number };

/** Whether the record allows reduced inspection, normal inspection being in force; see switchingState for the rules. */
export function reducedBy({ counted, score }: Standing, standard: Standard, limitNumber: LimitNumber | null): Reduced {
  if (standard === 'ISO 2859-1') return { kind: 'score', score, allowed: score >= SCORE_FOR_REDUCED };
  if (limitNumber === null) return { kind: 'no-table', allowed: false };
  const good = acceptedInARow(counted);
  const lots = good.slice(good.findLastIndex((lot) => lot.standard !== standard) + 1).reverse();
  if (lots.length < LOTS_FOR_REDUCED) return { kind: 'too-few-lots', allowed: false };
  const aql = (lots[0] as SwitchingLot).plan.aql;
  let [units, nonconforming] = [0, 0];
  for (const [index, lot] of lots.entries()) {
    if (lot.plan.aql !== aql) {
      return index < LOTS_FOR_REDUCED
        ? { kind: 'aqls-differ', allowed: false }
        : { kind: 'too-few-units', allowed: false, units, lots: index };
    }
    units += lot.sampled;
    nonconforming += lot.nonconforming;
    if (index + 1 < LOTS_FOR_REDUCED) continue;
    const limit = limitNumber(units, aql);
    if (limit !== null) {
      return { kind: 'limit-number', allowed: nonconforming <= limit, nonconforming, limit, units, lots: index + 1 };
    }
  }
  return { kind: 'too-few-units', allowed: false, units, lots: lots.length };
}
