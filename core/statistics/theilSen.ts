import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import quickselect from 'quickselect';
import type { MannKendall } from './mannKendall.ts';
import type { Refused, Values } from './values.ts';

/** How readings rise or fall with their position, not led by single odd ones. In the unit of the readings, for each position. */
export interface TheilSen {
  slope: number;
  /** Interval of the slope. */
  lower: number;
  upper: number;
  /** Confidence of the interval, 0 to 1. */
  confidence: number;
  /** The line goes through the medians of positions and readings. */
  at: { position: number; value: number };
  /** All pairs of readings, or so many of them that stand for all. */
  pairs: number;
  everyPair: boolean;
  /** Within ± this the slope of all pairs lies, with 99 %; 0 where every pair was taken. */
  slopeError: number;
}

/** Up to here every pair is taken: 1 124 250 of them. */
const EVERY_PAIR_UP_TO = 1500;
/** Above, so many pairs stand for all. */
const SOME_PAIRS = 1_000_000;
/** Of the normal distribution, two-sided 99 %. */
const NORMAL_99 = 2.5758293035489;

/**
 * The Theil-Sen line: the median of the slopes of all pairs, with Sen's interval from the variance of S.
 * Source: Sen, Estimates of the regression coefficient based on Kendall's tau, JASA 63 (1968); the line through the medians:
 * Conover, Practical Nonparametric Statistics (from memory).
 * Above 1500 readings a million pairs, spread evenly over all pairs by a low-discrepancy sequence, stand for all. The median of
 * the whole lies, with 99 %, between the slopes of rank M/2 ± 1.29·√M among them (binomial); that is `slopeError`, and the
 * interval is made as much wider.
 * @param positions one for each reading, rising; 1, 2, 3 … where left out. Pairs at one position say nothing and are left out.
 */
export function theilSen(
  inOrder: Values,
  { varianceOfS }: Pick<MannKendall, 'varianceOfS'>,
  positions: Values | null = null,
  confidence = 0.95,
): TheilSen | Refused {
  const n = inOrder.length;
  if (n < 3) return { refused: 'A slope is told from at least 3 readings.' };
  const everyPair = n <= EVERY_PAIR_UP_TO;
  const slopes = everyPair ? allSlopes(inOrder, positions) : someSlopes(inOrder, positions);
  const pairs = slopes.length;
  if (pairs === 0) return { refused: 'All readings are of one position.' };

  const error = everyPair ? 0 : NORMAL_99 * 0.5 * Math.sqrt(pairs);
  const share = (normalQuantile((1 + confidence) / 2, 0, 1) * Math.sqrt(varianceOfS)) / ((n * (n - 1)) / 2);
  const half = (share * pairs) / 2 + error;
  const middle = (pairs - 1) / 2;
  const at = (rank: number) => Math.min(pairs - 1, Math.max(0, rank));
  const ranks = [middle - half, middle - error, middle, middle + error, middle + half].map(at);
  const [lower, low, slope, high, upper] = selected(slopes, ranks) as [number, number, number, number, number];
  const places = Float64Array.from({ length: n }, (_, index) => positionOf(positions, index));
  return {
    slope,
    lower,
    upper,
    confidence,
    at: { position: medianInPlace(places), value: medianInPlace(Float64Array.from(inOrder)) },
    pairs,
    everyPair,
    slopeError: Math.max(high - slope, slope - low),
  };
}

function positionOf(positions: Values | null, index: number): number {
  return positions === null ? index + 1 : (positions[index] as number);
}

function allSlopes(values: Values, positions: Values | null): Float64Array {
  const n = values.length;
  const slopes = new Float64Array((n * (n - 1)) / 2);
  let count = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const run = positionOf(positions, j) - positionOf(positions, i);
      if (run !== 0) slopes[count++] = ((values[j] as number) - (values[i] as number)) / run;
    }
  }
  return slopes.subarray(0, count);
}

/**
 * Pairs by the additive recurrence of the plastic number in two dimensions (Roberts 2018, from memory), folded into the
 * triangle of all pairs.
 */
function someSlopes(values: Values, positions: Values | null): Float64Array {
  const n = values.length;
  const plastic = 1.324717957244746;
  const [stepX, stepY] = [1 / plastic, 1 / plastic ** 2];
  const slopes = new Float64Array(SOME_PAIRS);
  let count = 0;
  let [x, y] = [0.5, 0.5];
  for (let pair = 0; pair < SOME_PAIRS; pair++) {
    x = (x + stepX) % 1;
    y = (y + stepY) % 1;
    const [i, j] = [Math.floor(x * n), Math.floor(y * n)];
    const run = positionOf(positions, j) - positionOf(positions, i);
    if (run !== 0) slopes[count++] = ((values[j] as number) - (values[i] as number)) / run;
  }
  return slopes.subarray(0, count);
}

/** Values of these ranks, which rise; between two, in a straight line. */
function selected(values: Float64Array, ranks: readonly number[]): number[] {
  const last = values.length - 1;
  let left = 0;
  const take = (rank: number): number => {
    // What was selected before stands in its place already.
    if (rank < left) return values[rank] as number;
    quickselect(values as unknown as number[], rank, left, last);
    left = rank;
    return values[rank] as number;
  };
  return ranks.map((rank) => {
    const below = Math.floor(rank);
    const value = take(below);
    if (below === rank) return value;
    return value + (rank - below) * (take(below + 1) - value);
  });
}

function medianInPlace(values: Float64Array): number {
  return selected(values, [(values.length - 1) / 2])[0] as number;
}
