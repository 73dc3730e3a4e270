/** What thinning needs to know of a point. */
export interface Thinnable {
  value: number;
  /** Never thinned away. */
  kept: boolean;
}

/**
 * At most about `most` of these points in their order, so that the line through them looks the same: the first and last,
 * of each stretch its lowest and highest, and every point that is to be kept.
 */
export function thin<P extends Thinnable>(points: readonly P[], most: number): readonly P[] {
  if (points.length <= most) return points;
  const stretch = Math.ceil(points.length / Math.max(1, Math.floor(most / 2)));
  const taken: P[] = [];
  for (let start = 0; start < points.length; start += stretch) {
    const part = points.slice(start, start + stretch);
    let [low, high] = [0, 0];
    part.forEach((point, index) => {
      if (point.value < (part[low] as P).value) low = index;
      if (point.value > (part[high] as P).value) high = index;
    });
    part.forEach((point, index) => {
      const isEnd = start + index === 0 || start + index === points.length - 1;
      if (isEnd || index === low || index === high || point.kept) taken.push(point);
    });
  }
  return taken;
}
