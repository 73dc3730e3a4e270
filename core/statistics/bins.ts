import { countBelow } from './countBelow.ts';
import { quartilesOf } from './percentile.ts';
import { stepOf } from './step.ts';
import { isRefused, type Refused, type SortedValues } from './values.ts';

/** A histogram, in the unit of the readings. */
export interface Bins {
  width: number;
  /** One more than counts; a value on an edge belongs to the bin above it. */
  edges: number[];
  counts: number[];
  /** Pieces too far out to be drawn. */
  below: number;
  above: number;
  /** What is not to be seen in it, in words. */
  notes: string[];
}

/** Bounds on the number of bins. Our choice: what a chart of a screen's width can show. */
const FEWEST = 5;
const MOST = 60;

/** Widths that are easily read, times a power of ten. */
const LEADS = [1, 2, 5];

/** What lies further from the quartiles than this many interquartile ranges is counted, not drawn: six standard deviations of a normal lot. */
const DRAWN = 4;

/**
 * Bins for looking at a distribution. Width by Freedman and Diaconis, 2·IQR/∛n (Zeitschrift für
 * Wahrscheinlichkeitstheorie 57, 1981); by Sturges (1926) where the middle half of the readings is equal. Rounded to 1, 2
 * or 5 times a power of ten, and to whole steps of the meter, or bins would by turns hold one step more and one less.
 * @param resolution what the last digit of the meter is worth; null where it is not known
 */
export function binsOf(sorted: SortedValues, resolution: number | null = null): Bins | Refused {
  const quartiles = quartilesOf(sorted);
  if (isRefused(quartiles)) return { refused: 'There is no reading to draw.' };
  const n = sorted.length;
  const lowest = sorted[0] as number;
  const highest = sorted[n - 1] as number;
  const step = stepOf(sorted, resolution);
  const spread = quartiles.interquartileRange;
  const from = spread > 0 ? Math.max(lowest, quartiles.lower - DRAWN * spread) : lowest;
  const to = spread > 0 ? Math.min(highest, quartiles.upper + DRAWN * spread) : highest;
  // All equal: one bin of a step, or one that is seen to have a width.
  if (from === to) return fill(sorted, widthNear(step ?? (Math.abs(from) * 1e-6 || 1), step, 0), from, to, step);
  const wanted = spread > 0 ? (2 * spread) / Math.cbrt(n) : (to - from) / (1 + Math.log2(n));
  return fill(sorted, widthNear(wanted, step, to - from), from, to, step);
}

/** A width as a quotient of whole numbers wherever it can be: edges worked out by division are the decimals they stand for. */
interface Width {
  times: number;
  per: number;
}

/** The width nearest to the one wanted that keeps the number of bins within bounds; the meter's step goes before those. */
function widthNear(wanted: number, step: number | null, range: number): Width {
  const unit = step ?? 1;
  const sizeOf = (index: number) => (LEADS[index - 3 * Math.floor(index / 3)] as number) * 10 ** Math.floor(index / 3);
  let index = Math.round(3 * Math.log10(wanted / unit));
  while (range > 0 && range / (sizeOf(index) * unit) < FEWEST) index--;
  while (range / (sizeOf(index) * unit) > MOST) index++;
  if (step !== null) index = Math.max(0, index);
  const perUnit = Math.round(1 / unit);
  const whole = Math.abs(perUnit * unit - 1) < 1e-12;
  const lead = LEADS[index - 3 * Math.floor(index / 3)] as number;
  const power = Math.floor(index / 3);
  const times = lead * 10 ** Math.max(0, power) * (whole ? 1 : unit);
  return { times, per: 10 ** Math.max(0, -power) * (whole ? perUnit : 1) };
}

function fill(sorted: SortedValues, { times, per }: Width, from: number, to: number, step: number | null): Bins {
  const width = times / per;
  // Half a step below the values that the edges would else cut through.
  const shift = step === null ? 0 : step / 2;
  const first = Math.floor((from + shift) / width);
  const count = Math.floor((to + shift) / width) - first + 1;
  const edges = Array.from({ length: count + 1 }, (_, i) => ((first + i) * times) / per - shift);
  // A value on an edge may be a rounding below it.
  while ((edges[0] as number) > from) edges.unshift(((first - 1) * times) / per - shift);
  while ((edges[edges.length - 1] as number) <= to) edges.push(((first + edges.length) * times) / per - shift);

  const counts: number[] = [];
  const below = countBelow(sorted, edges[0] as number);
  let counted = below;
  for (const end of edges.slice(1)) {
    const until = countBelow(sorted, end);
    counts.push(until - counted);
    counted = until;
  }
  const above = sorted.length - counted;
  const far = below + above;
  const notes = far > 0 ? [`${far === 1 ? '1 piece lies' : `${far} pieces lie`} too far out to be drawn.`] : [];
  return { width, edges, counts, below, above, notes };
}
