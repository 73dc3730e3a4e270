import betainc from '@stdlib/math-base-special-betainc';
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import { problem } from '../problem/problem.ts';
import type { Plan } from './plan.ts';

/** What an operating characteristic follows from: pieces in the sample, and how many nonconforming ones are accepted. */
export type Sampled = Pick<Plan, 'sampleSize' | 'accept'>;

/** Chances of acceptance at which MIL-STD-105E tabulates the quality of lots (Tables X), in falling order. */
export const TABULATED = [0.99, 0.95, 0.9, 0.75, 0.5, 0.25, 0.1, 0.05, 0.01] as const;

/**
 * Chance that a lot is accepted of which this share of pieces does not conform: of at most `accept` nonconforming ones in a
 * sample, by the binomial distribution, as an incomplete beta function. It is the operating characteristic of single sampling
 * (MIL-STD-105E, 4.11 and Tables X; for lots drawn from a process, NIST/SEMATECH e-Handbook 6.2.3.2). For a lot of which the sample is
 * more than about a tenth the curve is steeper than this (common practice).
 * @param nonconforming share of the pieces, 0 to 1
 * @throws problem share-impossible
 */
export function chanceOfAcceptance({ sampleSize, accept }: Sampled, nonconforming: number): number {
  if (!(nonconforming >= 0 && nonconforming <= 1)) throw problem('share-impossible', String(nonconforming));
  if (accept >= sampleSize) return 1;
  return betainc(nonconforming, accept + 1, sampleSize - accept, true, true);
}

/**
 * The share of nonconforming pieces in lots that are accepted with this chance.
 * @param chance between 0 and 1, both excluded
 * @throws problem share-impossible
 */
export function qualityAccepted({ sampleSize, accept }: Sampled, chance: number): number {
  if (!(chance > 0 && chance < 1)) throw problem('share-impossible', String(chance));
  if (accept >= sampleSize) return 1;
  return betaQuantile(1 - chance, accept + 1, sampleSize - accept);
}
