import { countBelow } from './countBelow.ts';
import type { SortedValues } from './values.ts';

/** More than this show no more of a shape, and let departures be found that are too small to matter. */
export const MOST_REPRESENTATIVES = 2000;

/**
 * At most 2000 values that lie as all readings do: every reading, or evenly chosen by rank. Readings that the meter's
 * step made equal are spread evenly over that step, as the pieces were before they were rounded.
 * @param step what the last digit of the meter is worth; null where no reading is to be moved
 */
export function representativesOf(sorted: SortedValues, step: number | null): SortedValues {
  const n = sorted.length;
  const count = Math.min(n, MOST_REPRESENTATIVES);
  const chosen = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const rank = ((i + 0.5) * n) / count;
    const value = sorted[Math.floor(rank)] as number;
    if (step === null) {
      chosen[i] = value;
      continue;
    }
    const from = countBelow(sorted, value);
    const to = countBelow(sorted, value, true);
    chosen[i] = to - from < 2 ? value : value + step * ((rank - from) / (to - from) - 0.5);
  }
  // A step taken too large for the readings would leave neighbours out of order.
  return chosen.sort() as SortedValues;
}
