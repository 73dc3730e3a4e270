import type { Thinned } from '../../core/chart/thinned.ts';
import type { View } from '../../core/chart/view.ts';

/** Points of the strip that stands for a whole line. */
const POINTS = 600;

/** A whole line between these values, both coordinates from 0 to 1. */
export function outlineOf(line: Thinned, whole: View, values: View): (readonly [x: number, y: number])[] {
  return line.stretch(whole.from, whole.to, POINTS, 12).line.map((place) => {
    const up = Math.min(1, Math.max(0, (line.y(place) - values.from) / (values.to - values.from || 1)));
    return [(line.x(place) - whole.from) / (whole.to - whole.from), up] as const;
  });
}
