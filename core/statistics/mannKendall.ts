import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { type Ordered, orderedOf } from './inversions.ts';
import type { Refused, SortedValues, Values } from './values.ts';

/** Whether readings tend to rise or to fall in their order. */
export interface MannKendall {
  n: number;
  /** Pairs that rise less pairs that fall. */
  s: number;
  varianceOfS: number;
  /** With the correction for continuity; 0 where S is 0. */
  z: number;
  /** Probability of so large an |S| in readings without trend, two-sided. */
  p: number;
  /** From the exact distribution of S, or from the normal one. */
  exact: boolean;
  /** Kendall's tau-b: S over the pairs that are not tied, -1 to 1. */
  tau: number;
}

/** Fewer readings say nothing: with three, no order of them is rare. */
const LEAST_FOR_TREND = 4;

/** Up to here, and without ties, p comes from the exact distribution of S. */
const EXACT_UP_TO = 33;

/**
 * The Mann-Kendall test for a trend, in O(n log n).
 * Source: Mann, Econometrica 13 (1945); Kendall, Rank Correlation Methods (1975), with the variance for tied readings and the
 * correction for continuity (from memory). Exact distribution up to 33 readings without ties.
 * @param inOrder readings in the order of their positions
 */
export function mannKendall(inOrder: Values): MannKendall | Refused {
  return mannKendallOf(orderedOf(inOrder));
}

/** The same from readings whose inversions have been counted. */
export function mannKendallOf({ sorted, inversions }: Ordered): MannKendall | Refused {
  const n = sorted.length;
  const ties = tiesOf(sorted);
  return testOf(n, (n * (n - 1)) / 2 - ties.pairs - 2 * inversions, ties);
}

/** What tied readings take from the pairs and from the variance of S. */
export interface Ties {
  pairs: number;
  /** Σ t(t-1)(2t+5) over the groups of t equal readings. */
  variance: number;
}

/** The test from S and the ties. */
export function testOf(n: number, s: number, ties: Ties): MannKendall | Refused {
  const pairs = (n * (n - 1)) / 2;
  if (n < LEAST_FOR_TREND) return { refused: `A trend is told from at least ${LEAST_FOR_TREND} readings.` };
  if (ties.pairs === pairs) return { refused: 'All readings are equal: there is no trend to be seen.' };
  const varianceOfS = (n * (n - 1) * (2 * n + 5) - ties.variance) / 18;
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(varianceOfS);
  const exact = ties.pairs === 0 && n <= EXACT_UP_TO;
  const p = exact ? exactP(n, s) : Math.min(1, 2 * normalCdf(-Math.abs(z), 0, 1));
  return { n, s, varianceOfS, z, p, exact, tau: s / Math.sqrt((pairs - ties.pairs) * pairs) };
}

function tiesOf(sorted: SortedValues): Ties {
  const ties = { pairs: 0, variance: 0 };
  let start = 0;
  for (let i = 1; i <= sorted.length; i++) {
    if (i < sorted.length && sorted[i] === sorted[start]) continue;
    const t = i - start;
    ties.pairs += (t * (t - 1)) / 2;
    ties.variance += t * (t - 1) * (2 * t + 5);
    start = i;
  }
  return ties;
}

/** Two-sided probability of S or further out, from how many orders of n readings have so many inversions. */
function exactP(n: number, s: number): number {
  const pairs = (n * (n - 1)) / 2;
  // Probabilities instead of counts, which run out of a double; readings are added one by one.
  let shares = [1];
  for (let size = 2; size <= n; size++) {
    const next = new Array<number>(shares.length + size - 1).fill(0);
    for (const [inversions, share] of shares.entries()) {
      for (let more = 0; more < size; more++)
        next[inversions + more] = (next[inversions + more] as number) + share / size;
    }
    shares = next;
  }
  const least = (pairs - Math.abs(s)) / 2;
  let tail = 0;
  for (let inversions = 0; inversions <= least; inversions++) tail += shares[inversions] as number;
  return Math.min(1, 2 * tail);
}
