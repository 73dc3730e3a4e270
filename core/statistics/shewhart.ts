import gammaln from '@stdlib/math-base-special-gammaln';
import { problem } from '../problem/problem.ts';
import type { ChartPoint } from './ewma.ts';
import { summaryOf } from './summary.ts';
import { isRefused, type Refused, type Values } from './values.ts';

/** One point of a Shewhart chart: centre line, three-sigma limits, and whether it lies beyond them. */
export interface LimitedPoint extends ChartPoint {
  centre: number;
  out: boolean;
}

/** Constants of a mean and standard-deviation chart of subgroups of n. */
export interface SpreadConstants {
  c4: number;
  A3: number;
  B3: number;
  B4: number;
}

/** Constants of charts by ranges of n. */
export interface RangeConstants {
  d2: number;
  d3: number;
  A2: number;
  D3: number;
  D4: number;
  E2: number;
}

/** One subgroup, or one lot as a subgroup. */
export interface Subgroup {
  /** Readings in it, 1 or more. */
  n: number;
  mean: number;
  /** With n - 1; null for a single reading. */
  standardDeviation: number | null;
}

/** What single values are held against. */
export interface IndividualsLimits {
  centre: number;
  lower: number;
  upper: number;
  /** Mean size of the step from each value to the next. */
  movingRange: number;
  /** The largest such step that chance explains. */
  mostMovingRange: number;
  /** Standard deviation by the moving range. */
  spread: number;
}

export interface IndividualsChart {
  limits: IndividualsLimits;
  values: LimitedPoint[];
  /** The step to each value from the one before, from the second on. */
  movingRanges: LimitedPoint[];
}

export interface MeanSpreadChart {
  means: LimitedPoint[];
  /** Null for a subgroup of one reading. */
  spreads: (LimitedPoint | null)[];
}

/** Standard deviation within subgroups. */
export interface PooledSpread {
  /** Estimate of σ, freed of the bias of small numbers. */
  sigma: number;
  degreesOfFreedom: number;
}

/** Control limits stand three standard deviations from the centre line. */
const SIGMAS = 3;

/** Beyond this the two gammas are so large that their difference loses digits, and the series has all of them. */
const SERIES_FROM = 1000;

/**
 * Mean of the standard deviation of n normal values, in units of σ: √(2/(n-1))·Γ(n/2)/Γ((n-1)/2).
 * Source: NIST/SEMATECH e-Handbook 6.3.2. For large n the expansion of the ratio of gammas (DLMF 5.11.13).
 * @param n a whole number from 2
 */
export function c4(n: number): number {
  const x = (n - 1) / 2;
  if (n > SERIES_FROM) return 1 - 1 / (8 * x) + 1 / (128 * x ** 2) + 5 / (1024 * x ** 3) - 21 / (32768 * x ** 4);
  return Math.exp(gammaln(n / 2) - gammaln(x)) / Math.sqrt(x);
}

/** Standard deviation of that standard deviation, in units of its mean. */
function relativeSpread(n: number): number {
  return Math.sqrt(1 - c4(n) ** 2) / c4(n);
}

/** c4, A3 = 3/(c4·√n), B3 and B4 = 1 ∓ 3·√(1-c4²)/c4, B3 not below 0. @param n a whole number from 2 */
export function spreadConstants(n: number): SpreadConstants {
  const half = SIGMAS * relativeSpread(n);
  return { c4: c4(n), A3: SIGMAS / (c4(n) * Math.sqrt(n)), B3: Math.max(0, 1 - half), B4: 1 + half };
}

/**
 * Mean and standard deviation of the range of n standard normal values, n from 2 to 10. Computed by numerical integration of
 * the distribution of the range to 9 decimals; they agree with the printed ones (ASTM MNL 7, e-Handbook 6.3.2.1).
 */
const RANGES: Readonly<Record<number, readonly [d2: number, d3: number]>> = {
  //RANGES
};

/** d2, d3 and what follows from them: A2, D3, D4, E2. Refused outside n = 2 to 10, where ranges serve badly. */
export function rangeConstants(n: number): RangeConstants | Refused {
  const found = RANGES[n];
  if (found === undefined) return { refused: `Charts by ranges are for subgroups of 2 to 10; there are ${n}.` };
  const [d2, d3] = found;
  const half = (SIGMAS * d3) / d2;
  return {
    d2,
    d3,
    A2: SIGMAS / (d2 * Math.sqrt(n)),
    D3: Math.max(0, 1 - half),
    D4: 1 + half,
    E2: SIGMAS / d2,
  };
}
