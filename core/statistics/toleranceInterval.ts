import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import chisquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { noncentralTQuantile } from './noncentralT.ts';
import type { Summary } from './summary.ts';
import type { Refused } from './values.ts';

/** Limits between which a given share of all pieces lies, with a given confidence. Both 0 to 1. */
export interface ToleranceInterval {
  coverage: number;
  confidence: number;
  /** mean ± factor·s, if the pieces are normal. */
  twoSided: { factor: number; lower: number; upper: number };
  /** The same share above `lower`, or below `upper`: each limit alone. */
  oneSided: { factor: number; lower: number; upper: number };
  /** Whatever the distribution: this share at least lies between lowest and highest, with this confidence. */
  betweenExtremes: { coverage: number; lower: number; upper: number };
  /** What limits these figures, in words. */
  notes: string[];
}

/**
 * Tolerance intervals, normal and distribution-free.
 * @param coverage share of the pieces, above 0, below 1
 * @param confidence above 0, below 1
 */
export function toleranceIntervalOf(summary: Summary, coverage = 0.95, confidence = 0.95): ToleranceInterval | Refused {
  const { n, mean, standardDeviation, lowest, highest } = summary;
  if (standardDeviation === null) return { refused: 'The spread of a single piece is not known.' };
  if (standardDeviation === 0) return { refused: 'All readings are equal, so no interval can be worked out of them.' };
  const around = (factor: number) => ({
    factor,
    lower: mean - factor * standardDeviation,
    upper: mean + factor * standardDeviation,
  });
  const free = coverageOfExtremes(n, confidence);
  const notes: string[] = [];
  if (free < coverage) {
    notes.push(`${n} pieces are too few to give ${percent(coverage)} without taking them to be normal.`);
  }
  return {
    coverage,
    confidence,
    twoSided: around(twoSidedFactor(n, coverage, confidence)),
    oneSided: around(oneSidedFactor(n, coverage, confidence)),
    betweenExtremes: { coverage: free, lower: lowest, upper: highest },
    notes,
  };
}

function percent(share: number): string {
  return `${Number((share * 100).toPrecision(6))} %`;
}

/**
 * k₂ by Howe's approximation, z·√((n-1)(1+1/n)/χ²).
 * Source: Howe, Journal of the American Statistical Association 64 (1969); NIST/SEMATECH e-Handbook 7.2.6.3.
 * @param n 2 or more
 */
export function twoSidedFactor(n: number, coverage: number, confidence: number): number {
  const z = normalQuantile((1 + coverage) / 2, 0, 1);
  return z * Math.sqrt(((n - 1) * (1 + 1 / n)) / chisquareQuantile(1 - confidence, n - 1));
}

/**
 * k₁, exact: the noncentral t with δ = z·√n, over √n.
 * Source: NIST/SEMATECH e-Handbook 7.2.6.3; ISO 16269-6.
 * @param n 2 or more
 */
export function oneSidedFactor(n: number, coverage: number, confidence: number): number {
  const rootN = Math.sqrt(n);
  return noncentralTQuantile(confidence, n - 1, normalQuantile(coverage, 0, 1) * rootN) / rootN;
}

/**
 * The share of all pieces that lies between the lowest and the highest of n, at least, whatever their distribution; the
 * share between is distributed as beta(n - 1, 2).
 * Source: Wilks, Annals of Mathematical Statistics 12 (1941); ISO 16269-6.
 * @param n 2 or more
 */
export function coverageOfExtremes(n: number, confidence: number): number {
  return betaQuantile(1 - confidence, n - 1, 2);
}
