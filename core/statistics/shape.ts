import { andersonDarling } from './andersonDarling.ts';
import { type Ends, endsOf } from './ends.ts';
import { extremeDeviates } from './extremeDeviates.ts';
import { emptiestMiddle, type Middle } from './middle.ts';
import { quartilesOf } from './percentile.ts';
import { representativesOf } from './representatives.ts';
import { stepOf } from './step.ts';
import { summaryOf } from './summary.ts';
import { deepestValley, type Valley } from './valley.ts';
import { isRefused, type Limits, type SortedValues } from './values.ts';

/** What the shape of a lot says of how it came to be. */
export type ShapeKind =
  | 'normal-like'
  | 'hole-in-the-middle'
  | 'cut-tails'
  | 'one-tail-cut'
  | 'two-populations'
  | 'skewed-or-long-tailed'
  | 'too-coarse'
  | 'all-equal'
  | 'too-few';

/** A figure a shape rests on. */
export interface Evidence {
  /** What it is, with "at most" or "at least" where `critical` is such a bound. */
  name: string;
  value: number;
  critical: number | null;
  /** Whether it is a value in the unit of the readings. */
  isReading: boolean;
}

export interface Shape {
  kind: ShapeKind;
  /** What it looks like and what it means, for the technician. */
  words: string;
  evidence: Evidence[];
  /** False: Cp, Cpk, Pp, Ppk say nothing of this lot; show the words in their place. */
  quoteCapability: boolean;
}

const LEAST_PIECES = 30;

/** Under this many a lot cut or mixed is often not told from a normal one, by our own simulation; the words say so. */
const FEW_PIECES = 100;

/** A step of more than this many standard deviations: under ten steps in the six that a lot spans (the rule of ten, common practice). */
const COARSEST_STEP = 0.6;

/** The kernel must cover the meter's step, or each step looks like a hill. At 3/4 of it the ripple is 1e-5 of the density. */
const STEP_SHARE = 0.75;

/*
 * Critical values from our own simulation of 20 000 normal samples at each of 13 sizes from 30 to 2000: exceeded by at
 * most 2 in 1000 at the worst size, by an end of a lot in 1 in 1000. Together at most about 1 normal lot in 100 is taken
 * for something else, which the tests count anew.
 */
const VALLEY_DEPTH = 2.4;
/** For a hill of less than LEAST_SIDE: in the long tail of a skewed lot a few pieces stand together by chance. */
const UNEVEN_VALLEY_DEPTH = 3.3;
const MIDDLE_DEPTH = 2.75;
const LEAST_RANGE: readonly (readonly [n: number, value: number])[] = [
  [30, 3.13],
  [40, 3.33],
  [50, 3.45],
  [70, 3.7],
  [100, 3.94],
  [150, 4.2],
  [200, 4.38],
  [300, 4.68],
  [500, 4.76],
  [700, 4.96],
  [1000, 5.04],
  [1400, 5.2],
  [2000, 5.26],
];
const LEAST_END: readonly (readonly [n: number, value: number])[] = [
  [30, 1.24],
  [50, 1.42],
  [70, 1.57],
  [100, 1.69],
  [150, 1.83],
  [200, 1.94],
  [300, 2.09],
  [500, 2.18],
  [700, 2.3],
  [1000, 2.37],
  [1400, 2.47],
  [2000, 2.51],
];

/** A valley or a middle must be at most this full beside its neighbours. Our choice: less is no sorting. */
const FULLEST_VALLEY = 0.6;
const FULLEST_MIDDLE = 0.5;

/** With a hole in the middle there is at least this share on each side of it. Our choice. */
const LEAST_SIDE = 0.15;

/** An end stands at a limit when it is no further from it than this many standard deviations. Our choice. */
const AT_LIMIT = 0.25;

/** One tail alone is cut when the other end reaches this many times as far. Our choice. */
const UNEVEN_ENDS = 1.3;

/** Not normal: an adjusted A² above this, where p is 0.002, and more than this in skewness or kurtosis. Up to 0.5 a distribution is called fairly symmetric (common practice). */
const MOST_ADJUSTED = 1.32;
const MOST_SKEWNESS = 0.5;
const MOST_KURTOSIS = 1;

/** Up to this share, or two, may stand apart as outliers before the rest is looked at. */
const MOST_APART = 0.02;

/**
 * What the shape of the readings says: sorted, mixed, cut, or as a process leaves them.
 * @param limits of the window; where there is no nominal value the middle of the window stands for it
 * @param resolution what the last digit of the meter is worth; null where it is not known
 */
export function shapeOf(sorted: SortedValues, limits: Limits, resolution: number | null = null): Shape {
  const n = sorted.length;
  const pieces = reading('pieces, at least', n, LEAST_PIECES, false);
  if (n > 1 && sorted[0] === sorted[n - 1]) {
    return not('all-equal', 'All readings are equal: the spread is below what the meter shows.', [pieces]);
  }
  if (n < LEAST_PIECES) {
    const words = `Only ${n === 1 ? '1 piece' : `${n} pieces`}: too few to tell whether the lot was sorted or mixed. That takes at least ${LEAST_PIECES}.`;
    return not('too-few', words, [pieces]);
  }

  const step = stepOf(sorted, resolution);
  const points = representativesOf(sorted, step);
  const ends = endsOf(points);
  const steps = (step ?? 0) / ends.standardDeviation;
  if (!(steps <= COARSEST_STEP)) {
    return not(
      'too-coarse',
      'The meter shows too few different values: the spread seen is its last digit as much as the pieces. Measure on a finer range.',
      [reading('last digit in standard deviations, at most', steps, COARSEST_STEP, false)],
    );
  }

  const quartiles = quartilesOf(points);
  const spread = isRefused(quartiles) ? 0 : quartiles.interquartileRange / 1.349;
  const scale = spread > 0 ? Math.min(spread, ends.standardDeviation) : ends.standardDeviation;
  const valley = deepestValley(points, scale, (step ?? 0) * STEP_SHARE);
  return (
    holeOf(points, limits, valley, scale) ??
    twoPopulations(valley, n) ??
    oneTailCut(ends, limits, scale, points.length) ??
    cutTails(ends, limits, scale, points.length) ??
    skewedOrNormal(points)
  );
}

function not(kind: ShapeKind, words: string, evidence: Evidence[]): Shape {
  return { kind, words, evidence, quoteCapability: false };
}

function reading(name: string, value: number, critical: number | null, isReading: boolean): Evidence {
  return { name, value, critical, isReading };
}

function isValley(valley: Valley | null): valley is Valley {
  return valley !== null && valley.depth > depthAsked(valley) && valley.ratio < FULLEST_VALLEY;
}

function smallerShare({ below, above }: Valley): number {
  return Math.min(below, above) / (below + above);
}

function depthAsked(valley: Valley): number {
  return smallerShare(valley) < LEAST_SIDE ? UNEVEN_VALLEY_DEPTH : VALLEY_DEPTH;
}

function valleyEvidence(valley: Valley): Evidence[] {
  return [
    reading('depth of the valley in standard errors, at most', valley.depth, depthAsked(valley), false),
    reading('density in the valley over the lower hill, at least', valley.ratio, FULLEST_VALLEY, false),
    reading('valley from', valley.from, null, true),
    reading('valley to', valley.to, null, true),
  ];
}

function middleEvidence(middle: Middle, centre: number): Evidence[] {
  return [
    reading('emptiness of the middle in standard errors, at most', middle.depth, MIDDLE_DEPTH, false),
    reading('share of the middle that is there, at least', middle.pieces / middle.expected, FULLEST_MIDDLE, false),
    reading('middle from', centre - middle.halfWidth, null, true),
    reading('middle to', centre + middle.halfWidth, null, true),
  ];
}

function holeOf(points: SortedValues, limits: Limits, valley: Valley | null, scale: number): Shape | null {
  const { nominal, lower, upper } = limits;
  const centre = nominal ?? (lower !== null && upper !== null ? (lower + upper) / 2 : null);
  if (centre === null) return null;
  const below = points.findLastIndex((value) => value < centre) + 1;
  const least = LEAST_SIDE * points.length;
  if (below < least || points.length - below < least) return null;
  const middle = emptiestMiddle(points, scale, centre);
  const emptyMiddle = middle.depth > MIDDLE_DEPTH && middle.pieces < FULLEST_MIDDLE * middle.expected;
  const valleyHere = isValley(valley) && valley.from <= centre && centre <= valley.to;
  if (!emptyMiddle && !valleyHere) return null;
  return not(
    'hole-in-the-middle',
    'Hardly any piece lies near the middle of the window, and many on both sides of it: the best ones may have been picked out. Capability says nothing of such a lot.',
    [...(emptyMiddle ? middleEvidence(middle, centre) : []), ...(valleyHere ? valleyEvidence(valley) : [])],
  );
}

function twoPopulations(valley: Valley | null, n: number): Shape | null {
  if (!isValley(valley)) return null;
  const smaller = Math.round(smallerShare(valley) * n);
  const words = `The readings lie on two hills with a gap between, about ${smaller} of ${n} pieces on the smaller: two reels, or two values, may have been mixed. Capability says nothing of such a lot.`;
  return not('two-populations', words, valleyEvidence(valley));
}

/** Whether the ends stand at the limits; by a scale that pieces far off do not widen. */
function endsAtLimits(ends: Ends, { lower, upper }: Limits, scale: number): { low: boolean; high: boolean } {
  const at = (end: number, limit: number | null) => limit !== null && Math.abs(end - limit) <= AT_LIMIT * scale;
  return { low: at(ends.lowest, lower), high: at(ends.highest, upper) };
}

function oneTailCut(ends: Ends, limits: Limits, scale: number, n: number): Shape | null {
  const at = endsAtLimits(ends, limits, scale);
  const least = criticalAt(LEAST_END, n);
  const low = at.low && ends.low < least && ends.high > UNEVEN_ENDS * ends.low;
  const high = at.high && ends.high < least && ends.low > UNEVEN_ENDS * ends.high;
  if (!low && !high) return null;
  const words = `The readings end abruptly at the ${low ? 'lower' : 'upper'} limit: the pieces beyond it were probably sorted out, and many lie close to it. Capability says nothing of such a lot.`;
  return not('one-tail-cut', words, [
    reading('reach of the cut end in standard deviations, at least', low ? ends.low : ends.high, least, false),
    reading(low ? 'lowest but for strays' : 'highest but for strays', low ? ends.lowest : ends.highest, null, true),
  ]);
}

function cutTails(ends: Ends, limits: Limits, scale: number, n: number): Shape | null {
  const least = criticalAt(LEAST_RANGE, n);
  if (ends.range >= least) return null;
  const at = endsAtLimits(ends, limits, scale);
  const words =
    at.low && at.high
      ? 'The readings fill the window from limit to limit and have no tails: the lot was probably sorted to the limits, and many pieces lie close to one. Capability says nothing of such a lot.'
      : 'The readings have no tails: the lot was sorted to the values at which it ends, or its value moved steadily along the reel, or two reels that differ little are mixed. Capability says nothing of such a lot.';
  return not('cut-tails', words, [
    reading('range in standard deviations, at least', ends.range, least, false),
    reading('lowest but for strays', ends.lowest, null, true),
    reading('highest but for strays', ends.highest, null, true),
  ]);
}

function skewedOrNormal(points: SortedValues): Shape {
  const most = Math.max(2, Math.floor(points.length * MOST_APART));
  const deviates = extremeDeviates(points, most, 0.01);
  const apart = isRefused(deviates) ? [] : deviates.outliers;
  const low = apart.filter((value) => value < (points[points.length >> 1] as number)).length;
  const rest = points.subarray(low, points.length - (apart.length - low)) as SortedValues;

  const summary = summaryOf(rest);
  if (isRefused(summary)) return not('all-equal', summary.refused, []);
  const test = andersonDarling(rest, summary);
  if (isRefused(test)) return not('all-equal', test.refused, []);
  const { skewness, kurtosis } = momentsOf(rest, summary.mean);
  const evidence = [
    reading(`adjusted A² of ${rest.length} of them, at most`, test.adjusted, MOST_ADJUSTED, false),
    reading('skewness, at most', Math.abs(skewness), MOST_SKEWNESS, false),
    reading('kurtosis beyond the normal, at most', kurtosis, MOST_KURTOSIS, false),
    reading('pieces that stand apart', apart.length, null, false),
  ];
  if (test.adjusted > MOST_ADJUSTED && (Math.abs(skewness) > MOST_SKEWNESS || kurtosis > MOST_KURTOSIS)) {
    const looks =
      Math.abs(skewness) > MOST_SKEWNESS
        ? `The readings trail off far to the ${skewness < 0 ? 'low' : 'high'} side`
        : 'The readings have longer tails than a normal lot';
    const words = `${looks}. Capability takes them to be normal and would mislead: go by the counted fraction outside and the percentiles.`;
    return not('skewed-or-long-tailed', words, evidence);
  }
  const but =
    apart.length > 0
      ? `, but for ${apart.length === 1 ? 'a piece that stands' : 'a few pieces that stand'} apart (see the outliers); capability counts ${apart.length === 1 ? 'it' : 'them'} in`
      : '';
  const shown = points.length < FEW_PIECES ? ` as far as ${points.length} pieces can show` : '';
  return {
    kind: 'normal-like',
    words: `The readings lie as a process leaves them, close to normal${shown}${but}.`,
    evidence,
    quoteCapability: true,
  };
}

/** Skewness and kurtosis beyond the normal's 3, from the moments. Source: NIST/SEMATECH e-Handbook 1.3.5.11. */
function momentsOf(values: SortedValues, mean: number): { skewness: number; kurtosis: number } {
  let [second, third, fourth] = [0, 0, 0];
  for (const value of values) {
    const square = (value - mean) ** 2;
    second += square;
    third += square * (value - mean);
    fourth += square * square;
  }
  const n = values.length;
  return { skewness: third / n / (second / n) ** 1.5, kurtosis: (fourth * n) / (second * second) - 3 };
}

/** Between two sizes of the simulation in a straight line over ln n. */
function criticalAt(table: readonly (readonly [n: number, value: number])[], n: number): number {
  const next = table.findIndex(([size]) => size >= n);
  const [size, value] = table[next] as readonly [number, number];
  const [sizeBefore, before] = table[next - 1] ?? [size, value];
  if (size === sizeBefore) return value;
  return before + ((value - before) * Math.log(n / sizeBefore)) / Math.log(size / sizeBefore);
}
