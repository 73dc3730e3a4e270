import type { SortedValues } from './values.ts';

/** With fewer equal neighbours than this share the meter resolves more than the pieces differ. Our choice. */
const LEAST_EQUAL = 0.02;

/**
 * The step in which the readings come: what the last digit of the meter is worth, or more where the readings show that
 * they were rounded further. Null where hardly any two are equal and the meter is not known.
 */
export function stepOf(sorted: SortedValues, resolution: number | null = null): number | null {
  let smallest = Number.POSITIVE_INFINITY;
  let equal = 0;
  for (let i = 1; i < sorted.length; i++) {
    const difference = (sorted[i] as number) - (sorted[i - 1] as number);
    if (difference === 0) equal++;
    else if (difference < smallest) smallest = difference;
  }
  const known = resolution !== null && resolution > 0 ? resolution : null;
  if (!Number.isFinite(smallest) || equal < sorted.length * LEAST_EQUAL) return known;
  // The difference of two doubles has few sure digits, and a step has one or two.
  return Math.max(known ?? 0, Number(smallest.toPrecision(2)));
}
