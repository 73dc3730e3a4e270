import { type Ends, endsOf } from '../statistics/ends.ts';
import { emptiestMiddle } from '../statistics/middle.ts';
import { percentile } from '../statistics/percentile.ts';
import { representativesOf } from '../statistics/representatives.ts';
import { shapeOf } from '../statistics/shape.ts';
import { stepOf } from '../statistics/step.ts';
import { deepestValley, type Valley } from '../statistics/valley.ts';
import { type SortedValues, sortedOf } from '../statistics/values.ts';
import { ohmsText, percentText } from './causeWords.ts';
import type { LotSeen, Seen } from './lotSeen.ts';
import type { LotExplained } from './oddLot.ts';

/** With fewer pieces the shape of a lot says little. Our choice. */
const LEAST_PIECES = 20;
/** How deep a valley is, in standard errors, before two populations are said. Chance makes one in some thousand lots. */
const VALLEY_DEPTH = 3.3;
const FULLEST_VALLEY = 0.6;
const MIDDLE_DEPTH = 3.3;
const FULLEST_MIDDLE = 0.4;
/** A smaller part of the pieces is single pieces. */
const LEAST_SHARE = 0.04;
/** A hole with at least this share on both sides of the nominal value is one. */
const LEAST_SIDE = 0.2;
/** How far the middle of a hole may be from the nominal value, in its widths. Our choice. */
const OFF_CENTRE = 0.2;
/** A stray is so many half windows from the nominal value, and so many standard deviations from the middle. Our choice. */
const STRAY_HALF_WINDOWS = 3;
const STRAY_DEVIATIONS = 8;
/** Positions named before "and so many more". */
const MOST_NAMED = 6;
/** A step of more standard deviations hides every shape (the rule of ten, common practice). */
const COARSEST_STEP = 0.6;
/** An end stands at a limit when it is no further from it, in standard deviations. Our choice. */
const AT_LIMIT = 0.25;
/** The kernel is no narrower than so much of the meter's step. */
const STEP_SHARE = 0.75;

/** What the values of a lot say as a heap, whatever their order. */
export function populationCauses(lot: LotSeen): LotExplained[] {
  const strays = strayPieces(lot);
  const hidden = new Set(strays);
  const rest =
    hidden.size === 0 ? lot.sorted : sortedOf(lot.along.filter((one) => !hidden.has(one)).map(({ ohms }) => ohms));
  return [...shapes(lot, rest), ...(strays.length > 0 ? [ofStrays(lot, strays)] : [])];
}

function shapes(lot: LotSeen, values: SortedValues): LotExplained[] {
  if (values.length < LEAST_PIECES || values[0] === values[values.length - 1]) return [];
  const { nominal, lot: given } = lot;
  const step = stepOf(values, given.resolutionOhms);
  const points = representativesOf(values, step);
  const ends = endsOf(points);
  if ((step ?? 0) > COARSEST_STEP * ends.standardDeviation) return [];
  const quarters = (percentile(points, 0.75) - percentile(points, 0.25)) / 1.349;
  const scale = quarters > 0 ? Math.min(quarters, ends.standardDeviation) : ends.standardDeviation;
  const valley = deepestValley(points, scale, (step ?? 0) * STEP_SHARE);
  const isValley = valley !== null && valley.depth > VALLEY_DEPTH && valley.ratio < FULLEST_VALLEY;
  const below = points.filter((ohms) => ohms < nominal).length / points.length;
  const twoSided = below > LEAST_SIDE && below < 1 - LEAST_SIDE;
  const middle = emptiestMiddle(points, scale, nominal);
  const isEmpty = twoSided && middle.depth > MIDDLE_DEPTH && middle.pieces < FULLEST_MIDDLE * middle.expected;
  const isHole = twoSided && isValley && valley.from <= nominal && nominal <= valley.to;
  // What was picked out lay around the nominal value; a gap between two values lies anywhere.
  const isBeside =
    isValley && Math.abs((valley.from + valley.to) / 2 - nominal) > OFF_CENTRE * (valley.to - valley.from);
  if ((isEmpty || isHole) && !isBeside) {
    const [from, to] = isHole ? [valley.from, valley.to] : [nominal - middle.halfWidth, nominal + middle.halfWidth];
    return [sortedOut(lot, values, from, to)];
  }
  return isValley ? [mixed(lot, values, valley)] : cutOff(lot, values, ends, scale);
}

/** Ends that stand at both limits, and no tails: what was beyond was taken out. */
function cutOff({ lot, nominal }: LotSeen, values: SortedValues, ends: Ends, scale: number): LotExplained[] {
  const [lower, upper] = [Number(lot.window.lower ?? -1), Number(lot.window.upper ?? Number.MAX_VALUE)];
  if (shapeOf(values, { nominal, lower, upper }, lot.resolutionOhms).kind !== 'cut-tails') return [];
  const isAt = (end: number, limit: number) => Math.abs(end - limit) <= AT_LIMIT * scale;
  if (!isAt(ends.lowest, lower) || !isAt(ends.highest, upper)) return [];
  return [
    {
      cause: 'sorted lot',
      weight: 0.85,
      evidence: `The pieces fill the window from ${ohmsText(ends.lowest)} to ${ohmsText(ends.highest)} and have no tails: their range is ${Number(ends.range.toPrecision(2))} standard deviations. What lay beyond the limits was probably taken out.`,
      next: 'Expect many pieces near the limits, and let the uncertainty of the readings have its guard band; ask the supplier how the lot was sorted.',
    },
  ];
}

function sortedOut({ nominal }: LotSeen, sorted: SortedValues, from: number, to: number): LotExplained {
  const inside = sorted.filter((ohms) => ohms >= from && ohms <= to).length;
  return {
    cause: 'sorted lot',
    weight: 0.9,
    evidence: `${inside === 0 ? 'None' : `Only ${inside}`} of ${sorted.length} pieces lie between ${ohmsText(from)} and ${ohmsText(to)}, around ${ohmsText(nominal)}, and many on both sides: the nearest ones may have been picked out.`,
    next: 'Ask the supplier whether the lot is what was left of a better class; such pieces lie near the limits and may drift over them.',
  };
}

function mixed({ along }: LotSeen, sorted: SortedValues, { at }: Valley): LotExplained {
  const [low, high] = [sorted.filter((ohms) => ohms < at), sorted.filter((ohms) => ohms >= at)];
  const isLowFewer = low.length < high.length;
  const [few, many] = isLowFewer ? [low, high] : [high, low];
  const places = along.filter(({ ohms }) => ohms < at === isLowFewer).map(({ position }) => position);
  const values = (of: Float64Array) => ohmsText(of[of.length >> 1] as number);
  return {
    cause: 'mixed reel',
    weight: 0.9,
    evidence: `Two values with a gap between: ${many.length} pieces about ${values(many)}, and ${few.length} (${percentText(few.length / sorted.length)}) about ${values(few)}, at positions ${named(places)}.`,
    next: 'Compare the marking of pieces from these positions with their neighbours, and measure every piece where the lot is to be used.',
  };
}

function strayPieces({ along, nominal, median, halfWindow, spread, noise }: LotSeen): Seen[] {
  const far = STRAY_DEVIATIONS * Math.max(spread, noise);
  const strays = along.filter(
    ({ ohms }) => Math.abs(ohms - nominal) > STRAY_HALF_WINDOWS * halfWindow && Math.abs(ohms - median) > far,
  );
  return strays.length > 0 && strays.length <= Math.max(3, LEAST_SHARE * along.length) ? strays : [];
}

function ofStrays({ along, median }: LotSeen, strays: readonly Seen[]): LotExplained {
  return {
    cause: 'strays of another value',
    weight: 0.72,
    evidence: `${strays.length} of ${along.length} pieces (${percentText(strays.length / along.length)}) are far from all others, which lie about ${ohmsText(median)}: ${strays
      .slice(0, MOST_NAMED)
      .map(({ position, ohms }) => `${ohmsText(ohms)} at position ${position}`)
      .join(', ')}${strays.length > MOST_NAMED ? ', …' : ''}.`,
    next: 'Take each of them again and read its marking; what a single reading may be is said beside it.',
  };
}

function named(places: readonly number[]): string {
  const shown = places.slice(0, MOST_NAMED).join(', ');
  return places.length > MOST_NAMED ? `${shown} and ${places.length - MOST_NAMED} more` : shown;
}
