import { formatCount } from '../quantity/formatCount.ts';
import { significant } from '../quantity/significant.ts';
import { cusumSignals } from '../statistics/cusum.ts';
import { type Baseline, ewmaSignals, type Signals, signalsOf } from '../statistics/ewma.ts';
import type { MannKendall } from '../statistics/mannKendall.ts';
import { type TheilSen, theilSen } from '../statistics/theilSen.ts';
import { isRefused, type Limits, type Refused, type Values } from '../statistics/values.ts';

/** Where the line of the trend leaves the window. */
export interface LeavesAt {
  limit: 'lower' | 'upper';
  /** The first piece of the reel beyond the limit, on the line, counted from its beginning. */
  piece: number;
  /** The same for the steepest slope of the interval, and for the flattest; null where that one does not leave within the lot. */
  earliest: number;
  latest: number | null;
}

/** How the value moves along the reel. */
export interface ReelTrend {
  /** Whether there is a trend at all. */
  mannKendall: MannKendall | Refused;
  /** How steep it is, in ohms a piece. */
  slope: TheilSen | Refused;
  /** What charts hold readings against: their mean, and the spread of neighbours (mean moving range / 1.128). */
  baseline: Baseline | Refused;
  /** Single readings beyond three standard deviations. */
  individuals: Signals | Refused;
  ewma: Signals | Refused;
  cusum: Signals | Refused;
  /** Only of a trend that is shown, and where its line leaves the window within the lot. */
  leavesAt: LeavesAt | null;
  /** What all this means, in a sentence or two. */
  words: string;
}

/** A trend is shown where chance alone would make one as strong less often. Common practice. */
export const SIGNIFICANT = 0.05;
/** Fewer readings say too little of a reel. Our choice. */
const LEAST_READINGS = 10;
/** Readings between two single ones beyond three standard deviations: 1 / 0.0027. */
const INDIVIDUALS_RUN_LENGTH = 370.4;
const D2_OF_TWO = 2 / Math.sqrt(Math.PI);
/** Significant digits of a slope; of a value. */
const FIGURES = 3;
const FIGURES_OF_A_VALUE = 6;

/** What is known of readings before their trend is looked for. */
export interface Along {
  inOrder: Values;
  mean: number;
  /** Mean step from each reading to the next; null where there is none. */
  movingRange: number | null;
  mannKendall: MannKendall | Refused;
  limits: Limits;
  /** Where along the reel the pieces were, rising; 1, 2, 3 … where null. */
  positions: Values | null;
  /** Whether they really were there, and do not only count as if. */
  positionsKnown: boolean;
  /** Pieces on the reel; null where it is not known how far it goes. */
  lotSize: number | null;
}

/**
 * The trend of the value along the reel, with what it means at the reel's end. Where positions are not known pieces count as taken
 * one after the other from the reel, and the words say so.
 */
export function reelTrend(along: Along): ReelTrend {
  const { inOrder, mannKendall } = along;
  const baseline = baselineOf(along);
  const charts = chartsOf(inOrder, baseline);
  if (inOrder.length < LEAST_READINGS) {
    const words = `${inOrder.length} readings are too few to tell a trend; ${LEAST_READINGS} are the least.`;
    return { mannKendall, slope: { refused: words }, baseline, ...charts, leavesAt: null, words };
  }
  if (isRefused(mannKendall)) {
    return { mannKendall, slope: mannKendall, baseline, ...charts, leavesAt: null, words: mannKendall.refused };
  }
  const slope = theilSen(inOrder, mannKendall, along.positions);
  if (isRefused(slope)) return { mannKendall, slope, baseline, ...charts, leavesAt: null, words: slope.refused };
  const shown = isShown({ mannKendall, slope });
  const leavesAt = shown ? leaving(slope, along) : null;
  return {
    mannKendall,
    slope,
    baseline,
    ...charts,
    leavesAt,
    words: wordsFor(mannKendall, slope, shown, leavesAt, along),
  };
}

/** Whether there is a trend that chance alone would seldom make. */
export function isShown({ mannKendall, slope }: Pick<ReelTrend, 'mannKendall' | 'slope'>): boolean {
  return !isRefused(mannKendall) && mannKendall.p < SIGNIFICANT && !isRefused(slope) && slope.slope !== 0;
}

function baselineOf({ mean, movingRange, inOrder }: Along): Baseline | Refused {
  if (movingRange === null) return { refused: `A chart takes at least 2 readings; there are ${inOrder.length}.` };
  if (movingRange === 0) return { refused: 'All neighbours are equal: there is no spread to make limits from.' };
  return { centre: mean, spread: movingRange / D2_OF_TWO };
}

function chartsOf(inOrder: Values, baseline: Baseline | Refused): Pick<ReelTrend, 'individuals' | 'ewma' | 'cusum'> {
  if (isRefused(baseline)) return { individuals: baseline, ewma: baseline, cusum: baseline };
  const { centre, spread } = baseline;
  return {
    individuals: signalsOf(inOrder, INDIVIDUALS_RUN_LENGTH, (reading) => Math.abs(reading - centre) > 3 * spread),
    ewma: ewmaSignals(inOrder, baseline),
    cusum: cusumSignals(inOrder, baseline),
  };
}

/** The first piece on the line beyond a limit, where that is on the reel; null where the line stays inside. */
function leaving({ slope, lower, upper, at }: TheilSen, { limits, lotSize }: Along): LeavesAt | null {
  const limit = slope > 0 ? 'upper' : 'lower';
  const value = limits[limit];
  if (value === null || lotSize === null) return null;
  const room = value - at.value;
  const first = (steep: number): number => Math.max(1, Math.floor(at.position + room / steep) + 1);
  const piece = first(slope);
  if (piece > lotSize) return null;
  const [steepest, flattest] = slope > 0 ? [upper, lower] : [lower, upper];
  const latest = Math.sign(flattest) === Math.sign(slope) ? first(flattest) : null;
  return { limit, piece, earliest: first(steepest), latest: latest !== null && latest <= lotSize ? latest : null };
}

function wordsFor(
  { p, s }: MannKendall,
  { slope, lower, upper, at }: TheilSen,
  shown: boolean,
  leavesAt: LeavesAt | null,
  { limits, lotSize, positionsKnown }: Along,
): string {
  if (!shown && p < SIGNIFICANT) {
    return `The value tends to ${s > 0 ? 'rise' : 'fall'} (${pText(p)}), but by less than the readings resolve: half of all pairs of them give no slope.`;
  }
  if (!shown) return `No trend is shown (${pText(p)}).`;
  const way = slope > 0 ? 'rises' : 'falls';
  // Along the way it goes: an end of the interval that goes the other way is below 0.
  const perThousand = (value: number) => value * Math.sign(slope) * 1000;
  const span = [perThousand(lower), perThousand(upper)]
    .sort((a, b) => a - b)
    .map((value) => significant(value, FIGURES));
  const trend = `The value ${way} by ${significant(perThousand(slope), FIGURES)} Ω in 1 000 pieces (${span.join(' to ')} Ω; ${pText(p)}).`;
  const taken = positionsKnown ? '' : ', counted as taken one after the other from the reel';
  const one = positionsKnown ? 'position' : 'piece';
  if (leavesAt) {
    const { piece, earliest, latest, limit } = leavesAt;
    const range =
      latest === null
        ? `${one} ${formatCount(earliest)} at the earliest`
        : `${formatCount(earliest)} to ${formatCount(latest)}`;
    if (piece === 1) return `${trend} Its line lies beyond the ${limit} limit from the first piece on${taken}.`;
    return `${trend} At this slope ${one} ${formatCount(piece)} leaves the window at its ${limit} limit (${range})${taken}.`;
  }
  const limit = slope > 0 ? limits.upper : limits.lower;
  if (lotSize === null || limit === null) return trend;
  const end = at.value + slope * (lotSize - at.position);
  // It does not leave at the limit it moves to; it may not have come in yet at the other one.
  const isOutside = (limits.lower !== null && end < limits.lower) || (limits.upper !== null && end > limits.upper);
  return `${trend} At this slope the last of ${formatCount(lotSize)} pieces comes to ${significant(end, FIGURES_OF_A_VALUE)} Ω, ${isOutside ? 'outside' : 'inside'} the window${taken}.`;
}

function pText(p: number): string {
  return p < 0.001 ? 'p below 0.001' : `p = ${p.toFixed(p < 0.1 ? 3 : 2)}`;
}
