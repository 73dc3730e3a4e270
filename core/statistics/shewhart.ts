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
const SERIES_FROM = 300;

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
  2: [1.128379167, 0.852502466],
  3: [1.692568751, 0.888368004],
  4: [2.058750746, 0.879808203],
  5: [2.325928947, 0.864081941],
  6: [2.534412721, 0.848039686],
  7: [2.704356751, 0.833205336],
  8: [2.847200612, 0.81983149],
  9: [2.970026324, 0.807834275],
  10: [3.077505462, 0.797050674],
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

/** Constants of the step from one value to the next, a range of two: d2 = 2/√π, D4 = 1 + 3·√(2 - d2²)/d2. */
const D2_OF_STEPS = 2 / Math.sqrt(Math.PI);
const D4_OF_STEPS = 1 + (SIGMAS * Math.sqrt(2 - D2_OF_STEPS ** 2)) / D2_OF_STEPS;

/** Steps below this share of the mean are the rounding of doubles. */
const ROUNDING = 1e-14;

/**
 * Limits of single values by the moving range: mean ± E2·mean step, E2 = 3/d2; steps up to D4·mean step.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.2.
 * @throws problem figure-not-finite
 */
export function individualsLimits(values: Values): IndividualsLimits | Refused {
  const summary = summaryOf(values);
  if (isRefused(summary)) return summary;
  if (summary.n < 2) return { refused: 'A chart takes at least 2 values; there is 1.' };
  const centre = summary.mean;
  let steps = 0;
  for (let i = 1; i < values.length; i++) steps += Math.abs((values[i] as number) - (values[i - 1] as number));
  const movingRange = steps / (values.length - 1);
  if (movingRange <= ROUNDING * Math.abs(centre)) {
    return { refused: 'All values are equal: there is no spread to make limits from.' };
  }
  const spread = movingRange / D2_OF_STEPS;
  return {
    centre,
    lower: centre - SIGMAS * spread,
    upper: centre + SIGMAS * spread,
    movingRange,
    mostMovingRange: D4_OF_STEPS * movingRange,
    spread,
  };
}

/** A chart of single values and of their steps, against limits from these very values. */
export function individualsChart(values: Values): IndividualsChart | Refused {
  const limits = individualsLimits(values);
  if (isRefused(limits)) return limits;
  const steps = Array.from(values.slice(1), (value, index) => Math.abs(value - (values[index] as number)));
  const { movingRange, mostMovingRange } = limits;
  return {
    limits,
    values: Array.from(values, (value) => limited(value, limits)),
    movingRanges: steps.map((step) => limited(step, { centre: movingRange, lower: 0, upper: mostMovingRange })),
  };
}

/** A value with its limits; on a limit it is not out. */
export function limited(value: number, { centre, lower, upper }: Omit<LimitedPoint, 'value' | 'out'>): LimitedPoint {
  return { value, centre, lower, upper, out: value < lower || value > upper };
}

/**
 * The standard deviation within subgroups, their variances pooled by their degrees of freedom, over c4.
 * Source: Montgomery, Introduction to SQC, variable sample size (from memory).
 * @throws problem figure-not-finite
 */
export function pooledSpread(subgroups: readonly Subgroup[]): PooledSpread | Refused {
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const { n, standardDeviation } of subgroups) {
    if (standardDeviation === null || n < 2) continue;
    if (!Number.isFinite(standardDeviation)) throw problem('figure-not-finite', String(standardDeviation));
    squares += (n - 1) * standardDeviation ** 2;
    degreesOfFreedom += n - 1;
  }
  if (degreesOfFreedom === 0)
    return { refused: 'No subgroup has more than one reading, so there is no spread within.' };
  if (squares === 0) return { refused: 'All readings within each subgroup are equal: there is no spread within.' };
  if (!Number.isFinite(squares)) return { refused: 'The readings are too large to be charted.' };
  return { sigma: Math.sqrt(squares / degreesOfFreedom) / c4(degreesOfFreedom + 1), degreesOfFreedom };
}

/** The standard deviation of one subgroup against c4·σ and B3, B4 times that; null for a single reading. */
export function spreadPoint({ n, standardDeviation }: Subgroup, sigma: number): LimitedPoint | null {
  if (standardDeviation === null || n < 2) return null;
  const { c4: share, B3, B4 } = spreadConstants(n);
  const centre = share * sigma;
  return limited(standardDeviation, { centre, lower: B3 * centre, upper: B4 * centre });
}

/**
 * Chart of means and standard deviations of subgroups, of equal n or not: means against the mean of all readings
 * ± 3·σ/√n, which for equal n is A3 times the mean standard deviation. Source: NIST/SEMATECH e-Handbook 6.3.2.1.
 * @throws problem figure-not-finite
 */
export function meanSpreadChart(subgroups: readonly Subgroup[]): MeanSpreadChart | Refused {
  const pooled = pooledSpread(subgroups);
  if (isRefused(pooled)) return pooled;
  const { sigma } = pooled;
  const [first] = subgroups;
  const base = first?.mean ?? 0;
  const all = subgroups.reduce((sum, { n }) => sum + n, 0);
  // About the first mean, so that means that differ little keep their digits.
  const centre = base + subgroups.reduce((sum, { n, mean }) => sum + n * (mean - base), 0) / all;
  if (!Number.isFinite(centre)) throw problem('figure-not-finite', String(centre));
  return {
    means: subgroups.map(({ n, mean }) => {
      const half = (SIGMAS * sigma) / Math.sqrt(n);
      return limited(mean, { centre, lower: centre - half, upper: centre + half });
    }),
    spreads: subgroups.map((subgroup) => spreadPoint(subgroup, sigma)),
  };
}
