import { countBelow } from './countBelow.ts';
import { stabilised } from './stabilised.ts';
import type { SortedValues } from './values.ts';

/** The deepest valley of a density between two hills. */
export interface Valley {
  at: number;
  /** How far the valley is below the lower of the two hills, in standard errors. */
  depth: number;
  /** Density in the valley over that of the lower hill. */
  ratio: number;
  /** Where the density passes half of the lower hill, on both sides of the valley. */
  from: number;
  to: number;
  /** How many are on each side. */
  below: number;
  above: number;
}

/** A hill holds at least this share of all, and this many: fewer are outliers. Our choice. */
const LEAST_SHARE = 0.03;
const LEAST_PIECES = 5;

/** Cells for each width of the kernel, and the most that are made: beyond them everything stands in the end cells. */
const CELLS_PER_WIDTH = 4;
const MOST_CELLS = 4096;

/**
 * Widths of the kernel in min(s, IQR/1.349)·n^-0.2: Silverman's 0.9 (Density Estimation, 1986, 3.4.2) a little narrower,
 * for narrow valleys, and nearly doubled, for small hills.
 */
const WIDTHS = [0.7, 1.6];

/**
 * The deepest valley, or null where the density only rises and falls once. Density by a normal kernel; depth as the
 * difference of stabilised counts.
 * @param scale a standard deviation that outliers do not widen, above 0
 * @param narrowest the kernel is made no narrower: what a meter's step asks for
 */
export function deepestValley(sorted: SortedValues, scale: number, narrowest: number): Valley | null {
  let deepest: Valley | null = null;
  for (const times of WIDTHS) {
    const valley = valleyAt(sorted, Math.max(times * scale * sorted.length ** -0.2, narrowest));
    if (valley !== null && valley.depth > (deepest?.depth ?? 0)) deepest = valley;
  }
  return deepest;
}

function valleyAt(sorted: SortedValues, width: number): Valley | null {
  const n = sorted.length;
  const cell = width / CELLS_PER_WIDTH;
  const median = sorted[n >> 1] as number;
  const start = Math.max((sorted[0] as number) - 4 * width, median - (cell * MOST_CELLS) / 2);
  const end = Math.min((sorted[n - 1] as number) + 4 * width, median + (cell * MOST_CELLS) / 2);
  const counts = effectiveCounts(sorted, start, cell, Math.ceil((end - start) / cell) + 1);

  const hillsAfter = new Float64Array(counts.length);
  for (let i = counts.length - 2; i >= 0; i--) {
    hillsAfter[i] = Math.max(hillsAfter[i + 1] as number, counts[i + 1] as number);
  }
  const least = Math.max(LEAST_PIECES, LEAST_SHARE * n);
  let hillBefore = 0;
  let deepest: { index: number; depth: number; hill: number } | null = null;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    const hill = Math.min(hillBefore, hillsAfter[i] as number);
    hillBefore = Math.max(hillBefore, count);
    const depth = stabilised(hill) - stabilised(count);
    if (depth <= (deepest?.depth ?? 0)) continue;
    const below = countBelow(sorted, start + i * cell);
    if (below >= least && n - below >= least) deepest = { index: i, depth, hill };
  }
  if (deepest === null) return null;

  const { index, depth, hill } = deepest;
  let [from, to] = [index, index];
  while (from > 0 && (counts[from] as number) < hill / 2) from--;
  while (to < counts.length - 1 && (counts[to] as number) < hill / 2) to++;
  const at = start + index * cell;
  const below = countBelow(sorted, at);
  return {
    at,
    depth,
    ratio: (counts[index] as number) / hill,
    from: start + from * cell,
    to: start + to * cell,
    below,
    above: n - below,
  };
}

/** For each cell how many readings its density rests on: √2 times the sum of the kernels, each 1 at its middle. */
function effectiveCounts(sorted: SortedValues, start: number, cell: number, cells: number): Float64Array {
  const raw = new Float64Array(cells);
  for (const value of sorted) {
    const index = Math.min(cells - 1, Math.max(0, Math.round((value - start) / cell)));
    raw[index] = (raw[index] as number) + 1;
  }
  const reach = 4 * CELLS_PER_WIDTH;
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) => {
    return Math.SQRT2 * Math.exp(-0.5 * ((i - reach) / CELLS_PER_WIDTH) ** 2);
  });
  const counts = new Float64Array(cells);
  for (let i = 0; i < cells; i++) {
    const count = raw[i] as number;
    if (count === 0) continue;
    const first = Math.max(0, i - reach);
    const last = Math.min(cells - 1, i + reach);
    for (let k = first; k <= last; k++) counts[k] = (counts[k] as number) + count * (kernel[k - i + reach] as number);
  }
  return counts;
}
