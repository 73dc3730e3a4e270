import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/** A normal distribution fitted to so many readings, by their mean and standard deviation. */
export interface FittedNormal {
  mean: number;
  /** Above 0. */
  standardDeviation: number;
  n: number;
}

/** With fewer readings a curve through them says nothing. Our choice. */
export const LEAST_FOR_CURVE = 10;

/**
 * How many of the readings a bin of this width about a value would hold if they were normal: what the curve over a histogram
 * shows. In the middle of a bin it is the expected count of that very bin, however narrow the distribution; the density times
 * width would not be. All in the unit of the readings.
 */
export function expectedCount({ mean, standardDeviation, n }: FittedNormal, about: number, width: number): number {
  const below = normalCdf(about - width / 2, mean, standardDeviation);
  return n * (normalCdf(about + width / 2, mean, standardDeviation) - below);
}
