import type { View } from '../../core/chart/view.ts';
import { formatCount } from '../words/count.ts';
import type { PlotAxis } from './plot.tsx';

/** An axis of readings or positions, marked at the first, the last and one in the middle. */
export function placeAxis({ from, to }: View): PlotAxis {
  const [first, last] = [Math.ceil(from), Math.floor(to)];
  const places = last - first < 4 ? [first, last] : [first, Math.round((first + last) / 2), last];
  return { from, to, ticks: [...new Set(places)].map((at) => ({ at, text: formatCount(at) })) };
}
