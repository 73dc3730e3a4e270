import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import normalLogCdf from '@stdlib/stats-base-dists-normal-logcdf';
import { DoubleDouble } from './doubleDouble.ts';
import type { Summary } from './summary.ts';
import type { Refused, SortedValues } from './values.ts';

export interface AndersonDarling {
  n: number;
  aSquared: number;
  /** A²(1 + 0.75/n + 2.25/n²). */
  adjusted: number;
  /** How often normal readings are at least as far from normal, 0 to 1. */
  pValue: number;
  /** What limits these figures, in words. */
  notes: string[];
}

const LEAST_PIECES = 8;

/** With more pieces than this departures far too small to matter are found. Our choice. */
const MANY = 5000;

/** The formula for p is fitted to moderate values only; p is taken no lower than here, about 1e-24. */
const LARGEST_ADJUSTED = 10;

/** Beyond this many standard deviations Φ nears the smallest double, and its logarithm is taken another way. */
const FAR = 37;

/**
 * Whether the readings look normal, mean and standard deviation being estimated from them.
 * Source: Anderson and Darling 1954; D'Agostino and Stephens, Goodness-of-Fit Techniques (1986), table 4.9 for p.
 * @param summary of the same readings
 */
export function andersonDarling(sorted: SortedValues, summary: Summary): AndersonDarling | Refused {
  const n = sorted.length;
  const { mean, standardDeviation } = summary;
  if (n < LEAST_PIECES) return { refused: `Normality is not tested with fewer than ${LEAST_PIECES} readings.` };
  if (!standardDeviation) return { refused: 'All readings are equal, so there is no distribution to test.' };

  const sum = new DoubleDouble();
  let [value, lnBelow, lnAbove] = [Number.NaN, 0, 0];
  for (let i = 0; i < n; i++) {
    if (sorted[i] !== value) {
      value = sorted[i] as number;
      const z = (value - mean) / standardDeviation;
      const near = Math.abs(z) < FAR;
      const tail = near ? normalCdf(-Math.abs(z), 0, 1) : 0;
      const lnTail = near ? Math.log(tail) : normalLogCdf(-Math.abs(z), 0, 1);
      const lnRest = Math.log1p(-tail);
      [lnBelow, lnAbove] = z < 0 ? [lnTail, lnRest] : [lnRest, lnTail];
    }
    // Each reading meets ln Φ from below with 2i - 1, and ln(1 - Φ) from above with what is left of 2n.
    sum.add((2 * i + 1) * lnBelow + (2 * (n - i) - 1) * lnAbove);
  }
  const aSquared = Math.max(0, -n - sum.value / n);
  const adjusted = aSquared * (1 + 0.75 / n + 2.25 / (n * n));

  const notes: string[] = [];
  if (adjusted > LARGEST_ADJUSTED) notes.push('The p-value is at most what is shown.');
  if (n > MANY) {
    notes.push(
      `With ${n} readings departures are found that are too small to matter: look at the shape, not at p alone.`,
    );
  }
  return { n, aSquared, adjusted, pValue: pValueOf(Math.min(adjusted, LARGEST_ADJUSTED)), notes };
}

function pValueOf(a: number): number {
  if (a >= 0.6) return Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
  if (a > 0.34) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  if (a > 0.2) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
}
