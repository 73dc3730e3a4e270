import chisquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import type { Summary } from './summary.ts';
import type { Limits, Refused, Values } from './values.ts';

/** One index with its confidence interval. */
export interface Index {
  value: number;
  lower: number;
  upper: number;
}

/** Indices from one estimate of the spread. */
export interface Indices {
  /** The standard deviation they rest on. */
  standardDeviation: number;
  /** Degrees of freedom the intervals take it to have. */
  degreesOfFreedom: number;
  /** Cp or Pp; null for a one-sided window. */
  potential: Index | null;
  /** Cpk or Ppk. */
  actual: Index;
  /** Against the lower and the upper limit alone; null where there is none. */
  actualLower: number | null;
  actualUpper: number | null;
}

export interface Capability {
  /** Confidence of the intervals, 0 to 1. */
  confidence: number;
  /** Cp, Cpk: from the differences of neighbours, as far as the readings come in the order of making. */
  within: Indices | Refused;
  /** Pp, Ppk: from the standard deviation of all. */
  overall: Indices | Refused;
  /** Cpm, about the nominal value; null without one, or for a one-sided window. */
  aboutNominal: number | null;
  /** What limits these figures, in words. */
  notes: string[];
}

/** Mean range of two normal readings, in standard deviations: d2(2) = 2/√π = 1.128. */
const D2_OF_TWO = 2 / Math.sqrt(Math.PI);

/** Fewer pieces than this and the interval is so wide that it is what counts. Common practice. */
const FEW = 50;

/** Mean size of the steps from each reading to the next; null for fewer than two readings. */
export function meanMovingRange(inOrder: Values): number | null {
  if (inOrder.length < 2) return null;
  let sum = 0;
  for (let i = 1; i < inOrder.length; i++) sum += Math.abs((inOrder[i] as number) - (inOrder[i - 1] as number));
  return sum / (inOrder.length - 1);
}

/**
 * How well the window holds the spread. Cp, Cpk from the mean moving range (s = MR / d2(2)), Pp, Ppk from the standard
 * deviation of all; a one-sided window has Cpk and Ppk only.
 * Source: ISO 22514-2; NIST/SEMATECH e-Handbook 6.1.6 (formulas), 6.3.2.2 (moving range). Intervals: chi-square for
 * Cp and Pp; Bissell, How reliable is your capability index?, Applied Statistics 39 (1990), for Cpk and Ppk.
 * @param movingRange mean moving range of the same readings in order; null where their order means nothing
 * @param confidence of the two-sided intervals, 0 to 1
 */
export function capabilityOf(
  summary: Summary,
  movingRange: number | null,
  limits: Limits,
  confidence = 0.95,
): Capability | Refused {
  const { n, mean, standardDeviation } = summary;
  const { lower, upper, nominal } = limits;
  if (lower === null && upper === null) return { refused: 'There is no limit to hold the spread against.' };
  if (lower !== null && upper !== null && !(lower < upper)) {
    return { refused: 'The window has no width to hold the spread against.' };
  }
  if (standardDeviation === null) return { refused: 'The spread of a single piece is not known.' };
  if (standardDeviation === 0) {
    return { refused: 'All readings are equal: the spread is below what the meter shows, and no index can be given.' };
  }

  const notes: string[] = [];
  if (n < FEW) notes.push(`Only ${n} pieces: look at the interval rather than at the index.`);
  if (lower === null || upper === null) notes.push('The window has one limit, so there is no Cp and no Pp.');
  const about = nominal === null ? null : Math.hypot(standardDeviation, mean - nominal);
  return {
    confidence,
    within: withinOf(n, mean, movingRange, limits, confidence),
    overall: indices(n, mean, standardDeviation, n - 1, limits, confidence),
    aboutNominal: about === null || lower === null || upper === null ? null : (upper - lower) / (6 * about),
    notes,
  };
}

function withinOf(
  n: number,
  mean: number,
  movingRange: number | null,
  limits: Limits,
  confidence: number,
): Indices | Refused {
  if (movingRange === null) return { refused: 'The order of the pieces is not known, so there is no spread within.' };
  if (movingRange === 0) return { refused: 'All neighbours are equal, so there is no spread within.' };
  return indices(n, mean, movingRange / D2_OF_TWO, movingRangeFreedom(n), limits, confidence);
}

/**
 * Degrees of freedom a standard deviation would have that is as uncertain as the one from n - 1 moving ranges, about
 * 0.6(n - 1). From the first two moments of |x₁-x₂| and |x₂-x₃|, which are correlated since they share a reading: for
 * two standard normals with correlation -1/2, E|XY| = (2/π)(√(3/4) + (1/2)asin(1/2)).
 */
function movingRangeFreedom(n: number): number {
  const ranges = n - 1;
  const meanSquared = 4 / Math.PI;
  const variance = 2 - meanSquared;
  const covariance = (4 / Math.PI) * (Math.sqrt(0.75) + Math.PI / 12) - meanSquared;
  const ofMean = (variance + 2 * covariance * (1 - 1 / ranges)) / ranges;
  return meanSquared / (2 * ofMean);
}

function indices(
  n: number,
  mean: number,
  standardDeviation: number,
  degreesOfFreedom: number,
  { lower, upper }: Limits,
  confidence: number,
): Indices {
  const actualLower = lower === null ? null : (mean - lower) / (3 * standardDeviation);
  const actualUpper = upper === null ? null : (upper - mean) / (3 * standardDeviation);
  const actual = Math.min(actualLower ?? Number.POSITIVE_INFINITY, actualUpper ?? Number.POSITIVE_INFINITY);
  const tail = (1 - confidence) / 2;
  const margin = normalQuantile(1 - tail, 0, 1) * Math.sqrt(1 / (9 * n) + (actual * actual) / (2 * degreesOfFreedom));
  let potential: Index | null = null;
  if (lower !== null && upper !== null) {
    const value = (upper - lower) / (6 * standardDeviation);
    const times = (share: number) => value * Math.sqrt(chisquareQuantile(share, degreesOfFreedom) / degreesOfFreedom);
    potential = { value, lower: times(tail), upper: times(1 - tail) };
  }
  return {
    standardDeviation,
    degreesOfFreedom,
    potential,
    actual: { value: actual, lower: actual - margin, upper: actual + margin },
    actualLower,
    actualUpper,
  };
}
