import { Ewma } from '../statistics/ewma.ts';
import {
  type IndividualsLimits,
  individualsLimits,
  type LimitedPoint,
  limited,
  type PooledSpread,
  pooledSpread,
  type Subgroup,
  spreadPoint,
} from '../statistics/shewhart.ts';
import { isRefused, type Refused } from '../statistics/values.ts';

/** One lot by its readings that count and have a value. */
export interface LotValues {
  /** How the lot is called. */
  label: string;
  /** How many readings. */
  n: number;
  /** Null where no reading has a value. */
  meanOhms: number | null;
  /** With n - 1; null of fewer than two. */
  standardDeviationOhms: number | null;
  /** How many readings of quite another value are not among them; none where not said. */
  leftOut?: number;
}

/** One lot on the charts, in ohms. What has no limits is null. */
export interface LotPoint {
  label: string;
  n: number;
  meanOhms: number;
  standardDeviationOhms: number | null;
  /** Its mean among single values. */
  mean: LimitedPoint | null;
  /** The moving average of the means up to it. */
  average: LimitedPoint | null;
  /** Its standard deviation. */
  spread: LimitedPoint | null;
}

export interface LotToLot {
  /** Every lot that has a mean, in order of time; the last is the one in question. Limits are from the lots before it. */
  points: LotPoint[];
  /** How many lots there are before the last. */
  earlier: number;
  /** Whether the last lot is like those before it; null where that cannot be said. */
  belongs: boolean | null;
  /** Why, in a sentence or two. */
  words: string;
  /** What limits it, in words. */
  notes: string[];
}

/** Fewer lots before it say too little of the next. Our choice. */
export const LEAST_EARLIER = 5;
/** Limits from fewer are rough (common practice: 20 to 25). */
const ENOUGH_EARLIER = 20;
const SHOWN_DIGITS = 3;
const MOST_DECIMALS = 12;

/**
 * Whether the last lot of a part and supplier is like those before it, by three charts with limits from the lots before it
 * alone: its mean among single values (mean ± 3/1.128 times the mean step), the moving average of the means (λ 0.3, three
 * standard deviations), its standard deviation against the pooled one (B3 and B4 for its n). Means are charted as single
 * values because lots differ by more than readings within them do.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.1, 6.3.2.2, 6.3.2.4.
 * @param lots in order of time, the last being the one in question
 * @throws problem figure-not-finite
 */
export function lotToLot(lots: readonly LotValues[]): LotToLot {
  const last = lots.at(-1);
  const measured = lots.filter(hasMean);
  const unmeasured = lots.filter((lot) => !hasMean(lot)).map(({ label }) => label);
  const leftOut = [
    ...(unmeasured.length === 0 ? [] : [`Without a value, and left out: lot ${unmeasured.join(', ')}.`]),
    ...strayNotes(lots),
  ];
  if (last === undefined || !hasMean(last)) {
    const words = last === undefined ? 'There is no lot to judge' : `Lot ${last.label} has no reading with a value yet`;
    const points = measured.map((lot) => pointOf(lot, null, null, null));
    return { points, earlier: measured.length, belongs: null, words: `${words}.`, notes: leftOut };
  }
  const before = measured.slice(0, -1);
  if (before.length < LEAST_EARLIER) {
    return {
      points: measured.map((lot) => pointOf(lot, null, null, null)),
      earlier: before.length,
      belongs: null,
      words: `${lotsText(before.length)}: too few to say whether this one belongs.`,
      notes: leftOut,
    };
  }
  const limits = individualsLimits(before.map(({ meanOhms }) => meanOhms));
  const pooled = pooledOf(before);
  const ewma = isRefused(limits) ? null : new Ewma(limits);
  const points = measured.map((lot) => pointOf(lot, limits, ewma, pooled));
  return {
    points,
    earlier: before.length,
    ...judged(points, limits, pooled),
    notes: [...leftOut, ...notesOf(points, limits, pooled)],
  };
}

function strayNotes(lots: readonly LotValues[]): string[] {
  const strayed = lots
    .filter(({ leftOut = 0 }) => leftOut > 0)
    .map(({ label, leftOut }) => `${leftOut} of lot ${label}`);
  return strayed.length === 0 ? [] : [`Pieces of quite another value, left out: ${strayed.join(', ')}.`];
}

type Measured = LotValues & { meanOhms: number };

function hasMean(lot: LotValues): lot is Measured {
  return lot.meanOhms !== null;
}

function subgroupOf({ n, meanOhms, standardDeviationOhms }: Measured): Subgroup {
  return { n, mean: meanOhms, standardDeviation: standardDeviationOhms };
}

/** As for the means, so for the spreads: too few lots give no limits. */
function pooledOf(before: readonly Measured[]): PooledSpread | Refused {
  const withSpread = before.map(subgroupOf).filter(({ standardDeviation }) => standardDeviation !== null);
  if (withSpread.length < LEAST_EARLIER) {
    return { refused: `The spread within is known of ${withSpread.length} earlier lots only.` };
  }
  return pooledSpread(withSpread);
}

function pointOf(
  lot: Measured,
  limits: IndividualsLimits | Refused | null,
  ewma: Ewma | null,
  pooled: PooledSpread | Refused | null,
): LotPoint {
  const { label, n, meanOhms, standardDeviationOhms } = lot;
  const chart = limits === null || isRefused(limits) ? null : limits;
  const point = ewma?.add(meanOhms);
  return {
    label,
    n,
    meanOhms,
    standardDeviationOhms,
    mean: chart && limited(meanOhms, chart),
    average:
      chart && point ? limited(point.value, { centre: chart.centre, lower: point.lower, upper: point.upper }) : null,
    spread: pooled === null || isRefused(pooled) ? null : spreadPoint(subgroupOf(lot), pooled.sigma),
  };
}

function judged(
  points: readonly LotPoint[],
  limits: IndividualsLimits | Refused,
  pooled: PooledSpread | Refused,
): Pick<LotToLot, 'belongs' | 'words'> {
  const last = points.at(-1) as LotPoint;
  const before = lotsText(points.length - 1);
  const reasons = [
    ...outside(last.mean, 'its mean', 'lies above', 'lies below'),
    ...outside(last.average, 'the moving average of the means up to it', 'lies above', 'lies below'),
    ...outside(last.spread, 'its standard deviation', 'is larger than', 'is smaller than'),
  ];
  if (reasons.length > 0) {
    return { belongs: false, words: `Lot ${last.label} does not belong with the ${before}: ${reasons.join('; ')}.` };
  }
  if (isRefused(limits)) {
    const spread = last.spread ? ' Its standard deviation is like theirs.' : '';
    const words = `The means of the ${before} are all equal, so there are no limits to say by whether lot ${last.label} belongs.${spread}`;
    return { belongs: null, words };
  }
  const alike = last.spread
    ? 'its mean, the moving average of the means and its standard deviation lie within their limits'
    : `its mean and the moving average of the means lie within their limits; its standard deviation was not judged${isRefused(pooled) ? '' : ', there is one reading only'}`;
  return { belongs: true, words: `Lot ${last.label} belongs with the ${before}: ${alike}.` };
}

function outside(point: LimitedPoint | null, what: string, above: string, below: string): string[] {
  if (!point?.out) return [];
  const { value, lower, upper } = point;
  const shown = (ohms: number) => figure(ohms, upper - lower);
  const beyond = value > upper ? above : below;
  return [`${what}, ${shown(value)} Ω, ${beyond} the limits ${shown(lower)} to ${shown(upper)} Ω`];
}

function notesOf(
  points: readonly LotPoint[],
  limits: IndividualsLimits | Refused,
  pooled: PooledSpread | Refused,
): string[] {
  const before = points.slice(0, -1);
  const out = before.filter(({ mean, spread }) => mean?.out || spread?.out).map(({ label }) => label);
  return [
    ...(before.length < ENOUGH_EARLIER && !isRefused(limits)
      ? [`Limits from ${before.length} lots are rough; ${ENOUGH_EARLIER} or more make them firm.`]
      : []),
    ...(out.length > 0
      ? [`Already outside these limits: lot ${out.join(', ')}. Such lots widen the limits that they help to make.`]
      : []),
    ...(isRefused(limits) ? ['The means have no limits: all means before are equal.'] : []),
    ...(isRefused(pooled) ? [`The standard deviations have no limits. ${pooled.refused}`] : []),
  ];
}

function lotsText(count: number): string {
  return count === 1 ? '1 earlier lot' : `${count} earlier lots`;
}

/** A figure with as many decimals as three digits of the width of its limits need. */
function figure(ohms: number, width: number): string {
  const decimals = Math.max(0, SHOWN_DIGITS - 1 - Math.floor(Math.log10(width)));
  return ohms.toFixed(Math.min(MOST_DECIMALS, decimals));
}
