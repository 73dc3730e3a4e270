import betainc from '@stdlib/math-base-special-betainc';
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import { problem } from '../problem/problem.ts';
import { logBinomial } from './binomial.ts';
import { hypergeometricAtMost, hypergeometricChance } from './hypergeometric.ts';
import type { Numbers } from './singlePlan.ts';

/** What an operating characteristic follows from: pieces in the sample, and how many nonconforming ones are accepted. */
export interface Sampled {
  sampleSize: number;
  accept: number;
  /**
   * From so many on not accepted; one more than `accept` where it is left out. A count between the two, as in reduced inspection
   * by MIL-STD-105E, accepts the lot (4.10.1.4, from memory).
   */
  reject?: number;
  /**
   * Pieces measured besides, numbers of all together. A second sample: where the first one leaves it open. Attributes: in
   * place of a decision by mean and spread; then the chance is that of counting all of them.
   */
  further?: (Numbers & { kind: 'second-sample' | 'attributes'; sampleSize: number }) | null;
}

/** A lot of its own: how many pieces it has, and how many of them do not conform. */
export interface Lot {
  lotSize: number;
  nonconforming: number;
}

/** Chances of acceptance at which MIL-STD-105E tabulates the quality of lots (Tables X), in falling order. */
export const TABULATED = [0.99, 0.95, 0.9, 0.75, 0.5, 0.25, 0.1, 0.05, 0.01] as const;

/**
 * Chance that a lot is accepted of which this share of pieces does not conform, by the binomial distribution, as an incomplete
 * beta function. It is the operating characteristic of single and double sampling (MIL-STD-105E, 4.11 and Tables X; for lots drawn
 * from a process, NIST/SEMATECH e-Handbook 6.2.3.2). For a lot of which the sample is more than about a tenth the
 * curve is steeper than this (common practice): see {@link chanceInLot}.
 * @param nonconforming share of the pieces, 0 to 1
 * @throws problem share-impossible
 */
export function chanceOfAcceptance(sampled: Sampled, nonconforming: number): number {
  if (!(nonconforming >= 0 && nonconforming <= 1)) throw problem('share-impossible', String(nonconforming));
  return chanceBy(sampled, {
    exactly: (found, pieces) => binomialChance(found, pieces, nonconforming),
    atMost: (most, pieces) => binomialAtMost(most, pieces, nonconforming),
    furtherAtMost: (most, pieces) => binomialAtMost(most, pieces, nonconforming),
  });
}

/**
 * Chance that this lot is accepted, exact for its size (hypergeometric distribution; ISO 2859-1 and Schilling call it the type A
 * curve, from memory).
 * @param sampled all its samples together are at most the lot
 */
export function chanceInLot(sampled: Sampled, { lotSize, nonconforming }: Lot): number {
  return chanceBy(sampled, {
    exactly: (found, sampleSize) => hypergeometricChance(found, { lotSize, nonconforming, sampleSize }),
    atMost: (most, sampleSize) => hypergeometricAtMost(most, { lotSize, nonconforming, sampleSize }),
    furtherAtMost: (most, sampleSize, before) =>
      hypergeometricAtMost(most, {
        lotSize: lotSize - before.pieces,
        nonconforming: nonconforming - before.found,
        sampleSize,
      }),
  });
}

/**
 * The share of nonconforming pieces in lots that are accepted with this chance, by the binomial distribution.
 * @param chance between 0 and 1, both excluded
 * @throws problem share-impossible
 */
export function qualityAccepted(sampled: Sampled, chance: number): number {
  if (!(chance > 0 && chance < 1)) throw problem('share-impossible', String(chance));
  const { sampleSize, mostAccepted } = countedOnce(sampled) ?? {};
  if (sampleSize === undefined || mostAccepted === undefined) return qualityOfTwoSamples(sampled, chance);
  if (mostAccepted >= sampleSize) return 1;
  return betaQuantile(1 - chance, mostAccepted + 1, sampleSize - mostAccepted);
}

/** The curve falls all the way: halved until doubles have nothing between. */
function qualityOfTwoSamples(sampled: Sampled, chance: number): number {
  let [better, worse] = [0, 1];
  if (chanceOfAcceptance(sampled, worse) > chance) return worse;
  for (;;) {
    const middle = (better + worse) / 2;
    if (middle <= better || middle >= worse) return middle;
    if (chanceOfAcceptance(sampled, middle) > chance) better = middle;
    else worse = middle;
  }
}

/** Chances of counts in a sample. */
interface Counting {
  exactly(found: number, pieces: number): number;
  atMost(most: number, pieces: number): number;
  /** In a second sample, after a first one of so many pieces in which so many were found. */
  furtherAtMost(most: number, pieces: number, before: { pieces: number; found: number }): number;
}

/** The one count that decides; null where a second sample may be needed. */
function countedOnce(sampled: Sampled): { sampleSize: number; mostAccepted: number } | null {
  const { sampleSize, accept, reject = accept + 1, further } = sampled;
  if (!further) return { sampleSize, mostAccepted: reject - 1 };
  if (further.kind === 'second-sample') return null;
  return { sampleSize: sampleSize + further.sampleSize, mostAccepted: further.reject - 1 };
}

function chanceBy(sampled: Sampled, counting: Counting): number {
  const once = countedOnce(sampled);
  if (once) return counting.atMost(once.mostAccepted, once.sampleSize);
  const { sampleSize: pieces, accept, reject = accept + 1, further } = sampled;
  let chance = counting.atMost(accept, pieces);
  if (!further) return chance;
  for (let found = accept + 1; found < reject; found++) {
    const open = counting.exactly(found, pieces);
    if (open === 0) continue;
    chance += open * counting.furtherAtMost(further.reject - 1 - found, further.sampleSize, { pieces, found });
  }
  return Math.min(1, chance);
}

function binomialChance(found: number, tries: number, share: number): number {
  if (found > tries) return 0;
  if (share === 0 || share === 1) return found === tries * share ? 1 : 0;
  return Math.exp(logBinomial(found, tries, share, 1 - share));
}

function binomialAtMost(most: number, tries: number, share: number): number {
  if (most < 0) return 0;
  if (most >= tries) return 1;
  return betainc(share, most + 1, tries - most, true, true);
}
