import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { problem } from '../problem/problem.ts';
import { exceededWith } from '../statistics/exceededWith.ts';
import { noncentralTCdf } from '../statistics/noncentralT.ts';
import type { VariablesPlan } from './variablesPlan.ts';

/** What an operating characteristic by variables follows from. */
export type SampledByVariables = VariablesPlan & { spread: 'unknown' | 'known' };

/**
 * Chance that a lot is accepted of which this share of pieces does not conform, the values being normal: spread unknown,
 * Pa = 1 - T(k√n), T noncentral with n - 1 degrees of freedom and δ = z√n (Lieberman and Resnikoff, Journal of the American Statistical
 * Association 50 (1955)); spread known, Pa = Φ((z - k)√n). z is exceeded by this share of a standard normal.
 *
 * It is the curve for one limit, all nonconforming pieces lying beyond it. With two limits it is near to that where nearly all of them
 * lie beyond one (the tests of simulated lots say how near); where the spread alone makes pieces fall beyond both it is another.
 * @param nonconforming share of the pieces, 0 to 1
 * @throws problem share-impossible
 */
export function chanceByVariables(plan: SampledByVariables, nonconforming: number): number {
  if (!(nonconforming >= 0 && nonconforming <= 1)) throw problem('share-impossible', String(nonconforming));
  if (nonconforming === 0) return 1;
  if (nonconforming === 1) return 0;
  return chanceAt(plan, exceededWith(nonconforming));
}

/**
 * The share of nonconforming pieces in lots that are accepted with this chance.
 * @param chance between 0 and 1, both excluded
 * @throws problem share-impossible
 */
export function qualityByVariables(plan: SampledByVariables, chance: number): number {
  if (!(chance > 0 && chance < 1)) throw problem('share-impossible', String(chance));
  // The chance rises with z; halved until no double lies between.
  let [low, high] = [-FARTHEST, FARTHEST];
  for (;;) {
    const z = low + (high - low) / 2;
    if (z <= low || z >= high || high - low < SURE) return normalCdf(-z, 0, 1);
    if (chanceAt(plan, z) < chance) low = z;
    else high = z;
  }
}

/** Beyond it a share is nothing, or all, to a double. */
const FARTHEST = 38;

/** In z; it moves a share by less than one part in 10¹⁰. */
const SURE = 1e-12;

function chanceAt({ sampleSize, k, spread }: SampledByVariables, z: number): number {
  const root = Math.sqrt(sampleSize);
  if (spread === 'known') return normalCdf((z - Number(k)) * root, 0, 1);
  // 1 - T(t; δ) is T(-t; -δ), which keeps its digits where the chance is small.
  return noncentralTCdf(-Number(k) * root, sampleSize - 1, -z * root);
}
