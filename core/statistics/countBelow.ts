import type { SortedValues } from './values.ts';

/** How many readings are below a bound; with `orEqual` those on it too. */
export function countBelow(sorted: SortedValues, bound: number, orEqual = false): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const value = sorted[middle] as number;
    if (value < bound || (orEqual && value === bound)) low = middle + 1;
    else high = middle;
  }
  return low;
}
