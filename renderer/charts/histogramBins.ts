import type { WindowScale } from '../windowBar/windowScale.ts';

/** How many bins the band of the window is divided into; the stretches beyond it get bins of the same width. */
export const BINS_IN_BAND = 10;

export interface Bin {
  /** Edges in ohms; the outermost bins also hold what lies beyond the scale, and have no outer edge. */
  from: number | null;
  to: number | null;
  count: number;
}

/** The bins, and which of them lie inside the window: from `band.first` to before `band.end`. */
export interface Bins {
  bins: Bin[];
  band: { first: number; end: number };
}

/** Where the bins lie on a scale: their width and the limits in ohms, and how many there are below the band and above it. */
function layoutOf({ from, to, band }: WindowScale) {
  const width = ((band.end - band.start) * (to - from)) / BINS_IN_BAND;
  const lower = from + band.start * (to - from);
  const upper = from + band.end * (to - from);
  const below = Math.round((lower - from) / width);
  return { width, lower, upper, below, total: below + BINS_IN_BAND + Math.round((to - upper) / width) };
}

/** Where a value lies along the bins, in bins from the edge of the first; what lies beyond them is at their end. */
export function placeAlongBins(scale: WindowScale, ohms: number): number {
  const { width, lower, below, total } = layoutOf(scale);
  return Math.min(total, Math.max(0, below + (ohms - lower) / width));
}

/**
 * Counts values in bins of one width whose edges fall on the limits, so that no bin mixes good and bad pieces.
 * A value on the lower limit belongs to the bin above it, one on the upper limit to the bin below it: both are inside.
 */
export class BinCounts implements Bins {
  readonly bins: Bin[];
  readonly band: Bins['band'];
  /** How many values were counted. */
  n = 0;
  readonly #layout: ReturnType<typeof layoutOf>;

  constructor(scale: WindowScale) {
    this.#layout = layoutOf(scale);
    const { width, lower, below, total } = this.#layout;
    this.bins = Array.from({ length: total }, (_, index): Bin => {
      const start = lower + (index - below) * width;
      return { from: index === 0 ? null : start, to: index === total - 1 ? null : start + width, count: 0 };
    });
    this.band = { first: below, end: below + BINS_IN_BAND };
  }

  /** Width of a bin in ohms. */
  get width(): number {
    return this.#layout.width;
  }

  /** Value at a place along the bins, counted in bins from the edge of the first. */
  valueAt(place: number): number {
    return this.#layout.lower + (place - this.#layout.below) * this.#layout.width;
  }

  /** @param value ohms; infinity for an overload */
  add(value: number): void {
    const { width, lower, upper, below, total } = this.#layout;
    const inBand = value >= lower && value <= upper;
    const step = value === Number.POSITIVE_INFINITY ? total : Math.floor((value - lower) / width) + below;
    const [first, last] = inBand ? [below, below + BINS_IN_BAND - 1] : [0, total - 1];
    // Rounding must not carry a value over a limit: beyond it, it stays beyond.
    const floor = !inBand && value > upper ? below + BINS_IN_BAND : first;
    const ceiling = !inBand && value < lower ? below - 1 : last;
    const bin = this.bins[Math.min(Math.max(step, Math.min(floor, total - 1)), Math.max(ceiling, 0))];
    if (bin) bin.count += 1;
    this.n++;
  }
}

/** All these values in such bins. @param values ohms; infinity for an overload */
export function histogramBins(scale: WindowScale, values: readonly number[]): Bins {
  const counts = new BinCounts(scale);
  for (const value of values) counts.add(value);
  return counts;
}
