import type { Refused, SortedValues } from './values.ts';

export interface Quartiles {
  lower: number;
  median: number;
  upper: number;
  interquartileRange: number;
}

/**
 * The value below which this share of the readings lies, type 7: the lowest is share 0, the highest share 1, and between
 * two readings it goes in a straight line.
 * Source: Hyndman and Fan, Sample quantiles in statistical packages, The American Statistician 50 (1996), definition 7.
 * @param share 0 to 1
 * @throws RangeError for no readings or a share outside 0 to 1: a mistake of the caller
 */
export function percentile(sorted: SortedValues, share: number): number {
  if (sorted.length === 0 || !(share >= 0 && share <= 1)) {
    throw new RangeError(`share ${share} of ${sorted.length} readings`);
  }
  const position = (sorted.length - 1) * share;
  const index = Math.floor(position);
  const below = sorted[index] as number;
  const above = sorted[Math.min(index + 1, sorted.length - 1)] as number;
  return below + (position - index) * (above - below);
}

/** The middle reading. @throws RangeError for no readings */
export function medianOf(sorted: SortedValues): number {
  return percentile(sorted, 0.5);
}

/** The three values that part the readings in four, by type 7. */
export function quartilesOf(sorted: SortedValues): Quartiles | Refused {
  if (sorted.length === 0) return { refused: 'There is no reading to take quartiles of.' };
  const lower = percentile(sorted, 0.25);
  const upper = percentile(sorted, 0.75);
  return { lower, median: medianOf(sorted), upper, interquartileRange: upper - lower };
}
