import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import type { Summary } from './summary.ts';
import type { Refused } from './values.ts';

/** One reading against how far normal readings go. */
export interface GrubbsTest {
  /** The reading tested. */
  value: number;
  /** Its distance from the mean, in standard deviations. */
  statistic: number;
  critical: number;
  outlier: boolean;
}

export interface Grubbs {
  /** How often a reading of a normal lot is taken for an outlier, 0 to 1. */
  significance: number;
  /** Each end tested alone, one-sided. */
  lowest: GrubbsTest;
  highest: GrubbsTest;
  /** Whichever is further out, two-sided. */
  twoSided: GrubbsTest;
  /** What limits these figures, in words. */
  notes: string[];
}

/**
 * Whether the furthest reading is an outlier among normal ones. Made for one outlier: two on the same side hide each
 * other, for which see extremeDeviates.
 * Source: Grubbs, Technometrics 11 (1969); NIST/SEMATECH e-Handbook 1.3.5.17.1.
 */
export function grubbs(summary: Summary, significance = 0.05): Grubbs | Refused {
  const { n, mean, standardDeviation, lowest, highest } = summary;
  if (n < 3 || standardDeviation === null) return { refused: 'An outlier is told from at least 3 readings.' };
  if (standardDeviation === 0) return { refused: 'All readings are equal, so none is an outlier.' };
  const test = (value: number, share: number): GrubbsTest => {
    const statistic = Math.abs(value - mean) / standardDeviation;
    const critical = criticalValue(n, share);
    return { value, statistic, critical, outlier: statistic > critical };
  };
  const furthest = mean - lowest > highest - mean ? lowest : highest;
  return {
    significance,
    lowest: test(lowest, significance / n),
    highest: test(highest, significance / n),
    twoSided: test(furthest, significance / (2 * n)),
    notes: n < 7 ? [`With ${n} readings hardly any is far enough out to be told from the others.`] : [],
  };
}

function criticalValue(n: number, share: number): number {
  const t = tQuantile(share, n - 2);
  return ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
}
