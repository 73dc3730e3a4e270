import type { SortedValues } from './values.ts';

/** How far the ends of a lot reach, in its standard deviations. */
export interface Ends {
  low: number;
  high: number;
  range: number;
  /** The ends themselves, a few strays left out. */
  lowest: number;
  highest: number;
  standardDeviation: number;
}

/** One in so many at each end is left out: strays that a sorting let through. */
const STRAYS = 500;

/** Ends and standard deviation of what is left when one in 500 at each end is left out. The values must not all be equal. */
export function endsOf(sorted: SortedValues): Ends {
  const strays = Math.floor(sorted.length / STRAYS);
  const kept = sorted.subarray(strays, sorted.length - strays);
  const lowest = kept[0] as number;
  const highest = kept[kept.length - 1] as number;
  let [sum, squares] = [0, 0];
  for (const value of kept) {
    sum += value - lowest;
    squares += (value - lowest) ** 2;
  }
  const standardDeviation = Math.sqrt((squares - (sum * sum) / kept.length) / (kept.length - 1));
  const mean = lowest + sum / kept.length;
  return {
    low: (mean - lowest) / standardDeviation,
    high: (highest - mean) / standardDeviation,
    range: (highest - lowest) / standardDeviation,
    lowest,
    highest,
    standardDeviation,
  };
}
