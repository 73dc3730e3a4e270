import Big, { type RoundingMode } from 'big.js';
import { problem } from '../problem/problem.ts';
import { chanceInLot, chanceOfAcceptance, qualityAccepted } from './oc.ts';
import type { Plan } from './plan.ts';
import { chanceByVariables, qualityByVariables, type SampledByVariables } from './variablesOc.ts';

/** By what distribution the operating characteristic of a plan is worked out. */
export type OcBasis = 'process' | 'lot' | 'normal';

/**
 * `lot`: of this very lot, by the hypergeometric distribution, where the plan was made for it; `normal`: of normal values, where mean and
 * spread decide; else `process`: of lots from one process, by the binomial distribution.
 */
export function ocBasis({ choice, variables }: Plan): OcBasis {
  if (variables !== null) return 'normal';
  const isOfLot = choice.kind === 'zero-acceptance' || (choice.kind === 'two-point' && choice.of === 'lot');
  return isOfLot ? 'lot' : 'process';
}

/**
 * Chance that a lot is accepted of which this share of pieces does not conform, by the plan's own basis. Of a lot as many pieces as
 * are nearest to that share. By variables the fallback to counting is left out: it is the curve of lots that look normal.
 * @param share of the pieces, 0 to 1
 * @throws problem share-impossible
 */
export function planChance(plan: Plan, lotSize: number, share: number): number {
  switch (ocBasis(plan)) {
    case 'normal':
      return chanceByVariables(sampledByVariables(plan), share);
    case 'lot':
      if (!(share >= 0 && share <= 1)) throw problem('share-impossible', String(share));
      return chanceInLot(plan, { lotSize, nonconforming: Math.round(share * lotSize) });
    case 'process':
      return chanceOfAcceptance(plan, share);
  }
}

/**
 * The share of nonconforming pieces in lots that are accepted with this chance; of a lot the best quality that is accepted with this chance
 * or less.
 * @param chance between 0 and 1, both excluded
 * @throws problem share-impossible
 */
export function planQuality(plan: Plan, lotSize: number, chance: number): number {
  switch (ocBasis(plan)) {
    case 'normal':
      return qualityByVariables(sampledByVariables(plan), chance);
    case 'lot':
      return qualityInLot(plan, lotSize, chance);
    case 'process':
      return qualityAccepted(plan, chance);
  }
}

function qualityInLot(plan: Plan, lotSize: number, chance: number): number {
  if (!(chance > 0 && chance < 1)) throw problem('share-impossible', String(chance));
  let [from, to] = [0, lotSize];
  while (from < to) {
    const middle = Math.floor((from + to) / 2);
    if (chanceInLot(plan, { lotSize, nonconforming: middle }) <= chance) to = middle;
    else from = middle + 1;
  }
  return from / lotSize;
}

function sampledByVariables({ choice, variables, sampleSize }: Plan): SampledByVariables {
  if (variables === null || choice.kind !== 'variables') throw new Error('the plan is none by variables');
  return { sampleSize, k: variables.k, spread: choice.spreadOhms === null ? 'unknown' : 'known' };
}

/** Two qualities that show what a plan lets pass and what it stops, with their chances of acceptance. */
export interface ShownPoint {
  /** Share of nonconforming pieces, 0 to 1. */
  share: number;
  chance: number;
}

/** Chances at which a quality is shown where the plan names none itself (common practice: 5 % and 10 % risk). */
const [MOSTLY, SELDOM] = [0.95, 0.1];

/**
 * The two points that are said of a plan before the run: the ones it was made by where it names them. Of a lot they are those of as many
 * whole pieces as its plan was made for: of a quality to be accepted no more than that share, of one to be refused no fewer.
 */
export function shownPoints(plan: Plan, lotSize: number): readonly ShownPoint[] {
  const { choice } = plan;
  const at = (percent: string, rounding: RoundingMode): ShownPoint => {
    const exact = new Big(percent).times('0.01');
    const pieces = exact.times(lotSize).round(0, rounding).toNumber();
    const share = ocBasis(plan) === 'lot' ? pieces / lotSize : exact.toNumber();
    return { share, chance: planChance(plan, lotSize, share) };
  };
  const { roundDown, roundUp } = Big;
  const by = (chance: number): ShownPoint => {
    const share = planQuality(plan, lotSize, chance);
    return { share, chance: planChance(plan, lotSize, share) };
  };
  const named = choice.kind === 'variables' ? choice.by : choice;
  switch (named.kind) {
    case 'aql':
      return [at(named.aql, roundDown), by(SELDOM)];
    case 'two-point':
      return [at(named.acceptedPercent, roundDown), at(named.refusedPercent, roundUp)];
    case 'zero-acceptance':
      return [by(MOSTLY), at(named.refusedPercent, roundUp)];
    default:
      return [by(MOSTLY), by(SELDOM)];
  }
}
