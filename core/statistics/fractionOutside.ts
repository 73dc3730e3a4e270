import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import { countBelow } from './countBelow.ts';
import type { Summary } from './summary.ts';
import type { Limits, Refused, SortedValues } from './values.ts';

/** Shares of pieces beyond each limit, 0 to 1; null where there is no such limit. */
export interface Outside {
  below: number | null;
  above: number | null;
  total: number;
}

export interface NormalOutside {
  /** As if mean and standard deviation were known exactly. */
  plugIn: Outside;
  /** For the next piece, mean and standard deviation being estimates from n pieces: Student's t. */
  nextPiece: Outside;
  /** What limits these figures, in words. */
  notes: string[];
}

export interface CountedShare {
  count: number;
  /** count / n, 0 to 1, and its Clopper-Pearson interval. */
  share: number;
  lower: number;
  upper: number;
}

export interface CountedOutside {
  /** Confidence of each interval, 0 to 1. */
  confidence: number;
  below: CountedShare | null;
  above: CountedShare | null;
  total: CountedShare;
}

/**
 * The fraction outside that a normal distribution with this mean and spread has.
 * Source: NIST/SEMATECH e-Handbook 6.1.6 (plug-in); for the next piece the prediction distribution of a normal sample,
 * t = (limit - mean) / (s·√(1 + 1/n)) with n - 1 degrees of freedom (Hahn and Meeker, Statistical Intervals, 1991).
 */
export function normalOutside(summary: Summary, limits: Limits): NormalOutside | Refused {
  const { n, mean, standardDeviation } = summary;
  if (limits.lower === null && limits.upper === null) return { refused: 'There is no limit to be outside of.' };
  if (standardDeviation === null) return { refused: 'The spread of a single piece is not known.' };
  if (standardDeviation === 0) return { refused: 'All readings are equal, so no fraction can be worked out of them.' };
  const widened = standardDeviation * Math.sqrt(1 + 1 / n);
  const notes = [
    `Beyond about 1 in ${n} this rests on the normal distribution alone: no piece has shown what the tails are like.`,
  ];
  return {
    plugIn: beyond(limits, (from) => normalCdf(-from / standardDeviation, 0, 1), mean),
    nextPiece: beyond(limits, (from) => tCdf(-from / widened, n - 1), mean),
    notes,
  };
}

/** @param tail probability beyond a distance from the mean */
function beyond({ lower, upper }: Limits, tail: (from: number) => number, mean: number): Outside {
  const below = lower === null ? null : tail(mean - lower);
  const above = upper === null ? null : tail(upper - mean);
  return { below, above, total: (below ?? 0) + (above ?? 0) };
}

/**
 * The fraction outside as counted, whatever the distribution. A value on a limit is inside.
 * The count is made with doubles; verdicts are not decided by it.
 */
export function countedOutside(sorted: SortedValues, limits: Limits, confidence = 0.95): CountedOutside | Refused {
  const n = sorted.length;
  if (n === 0) return { refused: 'There is no reading to count.' };
  const { lower, upper } = limits;
  if (lower === null && upper === null) return { refused: 'There is no limit to be outside of.' };
  const below = lower === null ? null : countBelow(sorted, lower);
  const above = upper === null ? null : n - countBelow(sorted, upper, true);
  return {
    confidence,
    below: below === null ? null : clopperPearson(below, n, confidence),
    above: above === null ? null : clopperPearson(above, n, confidence),
    total: clopperPearson((below ?? 0) + (above ?? 0), n, confidence),
  };
}

/**
 * The share a count stands for, with the interval that holds at least as often as it says.
 * Source: Clopper and Pearson, Biometrika 26 (1934); NIST/SEMATECH e-Handbook 7.2.4.1, in its form by the beta distribution.
 * @param count 0 to `of`
 * @param of 1 or more
 */
export function clopperPearson(count: number, of: number, confidence = 0.95): CountedShare {
  const tail = (1 - confidence) / 2;
  return {
    count,
    share: count / of,
    lower: count === 0 ? 0 : betaQuantile(tail, count, of - count + 1),
    upper: count === of ? 1 : betaQuantile(1 - tail, count + 1, of - count),
  };
}
