/** How high the plot of a chart is and how high a line of its words, in pixels at the usual size of text. */
const PLOT = 190;
const LINE = 17;

/**
 * By how many pixels the words at the end of each level are moved, down being positive, so that those of near levels do not
 * touch: they keep their order, and move as little as that takes.
 * @param places of the levels along the axis, 0 at its lower end to 1
 */
export function wordsApart(places: readonly number[]): number[] {
  const order = places.map((_, index) => index).sort((a, b) => (places[a] as number) - (places[b] as number));
  const heights = order.map((index) => (places[index] as number) * PLOT);
  const placed: number[] = [];
  // Words that touch make a group, which stays about where its levels are.
  let start = 0;
  while (start < heights.length) {
    let end = start + 1;
    let middle = heights[start] as number;
    while (end < heights.length && (heights[end] as number) - middle < ((end - start + 1) / 2) * LINE) {
      end++;
      middle = heights.slice(start, end).reduce((sum, height) => sum + height, 0) / (end - start);
    }
    for (let i = start; i < end; i++) placed.push(middle + (i - (start + end - 1) / 2) * LINE);
    start = end;
  }
  const moved = new Array<number>(places.length).fill(0);
  order.forEach((index, rank) => {
    moved[index] = Math.round((heights[rank] as number) - (placed[rank] as number));
  });
  return moved;
}
