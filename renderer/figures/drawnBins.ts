import type { Bins } from '../../core/statistics/bins.ts';
import type { Limits } from '../../core/statistics/values.ts';

/** Bins as they are drawn: empty ones added on both sides as far as the limits, where those are near enough. */
export interface DrawnBins {
  counts: number[];
  /** Value at the lower edge of the first. */
  from: number;
  to: number;
  width: number;
  /** Whether each limit lies within what is drawn; true where there is none. */
  showsLower: boolean;
  showsUpper: boolean;
}

/** Up to so many times as wide as the readings the drawing may become to reach a limit; further off the limit is left to words. */
const MOST_TIMES = 3;
/** So few bins are always widened: all readings equal make one. */
const FREE_BINS = 20;

/** The bins of a lot widened to its limits. */
export function drawnBins({ edges, counts, width }: Bins, { lower, upper }: Limits): DrawnBins {
  const first = edges[0] as number;
  const last = edges[edges.length - 1] as number;
  const most = Math.max(FREE_BINS, MOST_TIMES * counts.length);
  // One more than reaches, so that the line of a limit is not the edge of the drawing.
  const before = lower === null ? 0 : Math.max(0, Math.ceil((first - lower) / width) + 1);
  const after = upper === null ? 0 : Math.max(0, Math.ceil((upper - last) / width) + 1);
  const added = { before: before > most ? 0 : before, after: after > most ? 0 : after };
  const from = first - added.before * width;
  const to = last + added.after * width;
  const isDrawn = (limit: number | null) => limit === null || (limit >= from && limit <= to);
  return {
    counts: [...zeros(added.before), ...counts, ...zeros(added.after)],
    from,
    to,
    width,
    showsLower: isDrawn(lower),
    showsUpper: isDrawn(upper),
  };
}

function zeros(count: number): number[] {
  return new Array<number>(count).fill(0);
}
