/** Where a point of a line lies, in pixels. */
export type At = readonly [x: number, y: number];

/** A line through points as the text of an SVG path, to a tenth of a pixel. */
export function linePath(points: readonly At[]): string {
  return points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}

/** Points by themselves as one path, to be stroked with round ends: a drawing with ten thousand dots is one element. */
export function dotsPath(points: readonly At[]): string {
  return points.map(([x, y]) => `M${x.toFixed(1)} ${y.toFixed(1)}h0`).join('');
}

/** Bars from a base line up, as one path. */
export function barsPath(bars: readonly { from: number; to: number; height: number }[], base: number): string {
  return bars
    .filter(({ height }) => height > 0)
    .map(
      ({ from, to, height }) =>
        `M${from.toFixed(1)} ${base.toFixed(1)}V${(base - height).toFixed(1)}H${to.toFixed(1)}V${base.toFixed(1)}Z`,
    )
    .join('');
}
