import { countBelow } from './countBelow.ts';
import { stabilised } from './stabilised.ts';
import type { SortedValues } from './values.ts';

/** What lies around the middle of the window, against its two neighbours. */
export interface Middle {
  /** How far the middle is below the emptier neighbour, in standard errors. */
  depth: number;
  /** Half its width; each neighbour is as wide. */
  halfWidth: number;
  /** How many there are, and how many as dense as the emptier neighbour would be. */
  pieces: number;
  expected: number;
}

/** Half widths looked at, in standard deviations. */
const HALF_WIDTHS = [0.2, 0.28, 0.4, 0.56, 0.8, 1.1];

/** The emptiest middle of those looked at: centre ± halfWidth against the strips next to it. With one hill wherever it stands, the middle is no emptier than both. */
export function emptiestMiddle(sorted: SortedValues, scale: number, centre: number): Middle {
  const between = (from: number, to: number) => countBelow(sorted, to) - countBelow(sorted, from);
  let emptiest: Middle = { depth: Number.NEGATIVE_INFINITY, halfWidth: 0, pieces: 0, expected: 0 };
  for (const times of HALF_WIDTHS) {
    const half = times * scale;
    const pieces = between(centre - half, centre + half);
    const neighbour = Math.min(between(centre - 2 * half, centre - half), between(centre + half, centre + 2 * half));
    const depth = stabilised(neighbour) - stabilised(pieces / 2);
    if (depth > emptiest.depth) emptiest = { depth, halfWidth: half, pieces, expected: 2 * neighbour };
  }
  return emptiest;
}
