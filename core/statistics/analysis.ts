import { isShown, type ReelTrend, reelTrend } from '../drift/reelTrend.ts';
import { type AndersonDarling, andersonDarling } from './andersonDarling.ts';
import { type Bins, binsOf } from './bins.ts';
import { type Capability, capabilityOf, meanMovingRange } from './capability.ts';
import { type ExtremeDeviates, extremeDeviates } from './extremeDeviates.ts';
import { type CountedOutside, countedOutside, type NormalOutside, normalOutside } from './fractionOutside.ts';
import { type Grubbs, grubbs } from './grubbs.ts';
import { orderedOf } from './inversions.ts';
import { mannKendallOf } from './mannKendall.ts';
import { percentile } from './percentile.ts';
import { type Shape, shapeOf } from './shape.ts';
import { type Summary, summaryOf } from './summary.ts';
import { type ToleranceInterval, toleranceIntervalOf } from './toleranceInterval.ts';
import { isRefused, type Limits, type Refused, type Values } from './values.ts';

/** Shares of the readings whose values are given. */
export const PERCENTILES = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99] as const;

/** All that readings of one lot say together. A figure that cannot be given stands as its reason. In the unit of the readings. */
export interface Analysis {
  summary: Summary | Refused;
  /** Of each of {@link PERCENTILES}. Empty of no readings. */
  percentiles: readonly { share: number; value: number }[];
  shape: Shape;
  /** Not to be quoted where `shape.quoteCapability` is false. */
  capability: Capability | Refused;
  normalOutside: NormalOutside | Refused;
  countedOutside: CountedOutside | Refused;
  toleranceInterval: ToleranceInterval | Refused;
  andersonDarling: AndersonDarling | Refused;
  grubbs: Grubbs | Refused;
  extremeDeviates: ExtremeDeviates | Refused;
  bins: Bins | Refused;
  trend: ReelTrend;
}

export interface AnalysisOptions {
  /** What the last digit of the meter is worth; taken from the readings where null. */
  resolution?: number | null;
  /** Pieces on the reel; null where it is not known. */
  lotSize?: number | null;
  /** Where along the reel the pieces were, rising; 1, 2, 3 … where null. */
  positions?: Values | null;
  /** Whether they really were there, and do not only count as if. */
  positionsKnown?: boolean;
}

const MOVES =
  'The value moves along the reel: figures that take all pieces to be of one process say nothing of those further on.';

/**
 * Works out everything of readings in their order along the reel. They are sorted once, by a merge that counts inversions.
 * @throws problem figure-not-finite where a value is no finite number
 */
export function analyse(inOrder: Values, limits: Limits, options: AnalysisOptions = {}): Analysis {
  const { resolution = null, lotSize = null, positions = null, positionsKnown = false } = options;
  const ordered = orderedOf(inOrder);
  const { sorted } = ordered;
  const summary = summaryOf(inOrder);
  const movingRange = meanMovingRange(inOrder);
  const of = <T>(figure: (summary: Summary) => T): T | Refused => (isRefused(summary) ? summary : figure(summary));
  const trend = reelTrend({
    inOrder,
    mean: isRefused(summary) ? 0 : summary.mean,
    movingRange,
    mannKendall: mannKendallOf(ordered),
    limits,
    positions,
    positionsKnown,
    lotSize,
  });
  const ofOneProcess = <T extends { notes: string[] }>(figure: T | Refused): T | Refused =>
    isRefused(figure) || !isShown(trend) ? figure : { ...figure, notes: [...figure.notes, MOVES] };
  return {
    summary,
    percentiles: sorted.length === 0 ? [] : PERCENTILES.map((share) => ({ share, value: percentile(sorted, share) })),
    shape: shapeOf(sorted, limits, resolution),
    capability: ofOneProcess(of((known) => capabilityOf(known, movingRange, limits))),
    normalOutside: ofOneProcess(of((known) => normalOutside(known, limits))),
    countedOutside: countedOutside(sorted, limits),
    toleranceInterval: ofOneProcess(of((known) => toleranceIntervalOf(known))),
    andersonDarling: of((known) => andersonDarling(sorted, known)),
    grubbs: of((known) => grubbs(known)),
    extremeDeviates: extremeDeviates(sorted),
    bins: binsOf(sorted, resolution),
    trend,
  };
}
