import { formatCount } from '../words/count.ts';
import type { PlotAxis } from './plot.tsx';

/** Where an axis of counts may end, times a power of ten: close together, so that bars fill it, and seldom passed. */
const ENDS = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];
/** Of fewer pieces than this a single one would look like many. */
const LEAST = 4;

/** An axis of counts from 0 to a round figure at or above `most`. */
export function countAxis(most: number): PlotAxis {
  const high = Math.max(LEAST, Math.ceil(most));
  const power = 10 ** Math.floor(Math.log10(high));
  const to = Math.ceil((ENDS.find((end) => end * power >= high) ?? 10) * power);
  return { from: 0, to, ticks: [0, to].map((at) => ({ at, text: formatCount(at) })) };
}
