import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import type { Refused, SortedValues } from './values.ts';

/** One stage: the reading furthest out of those that are left. */
export interface DeviateStage {
  value: number;
  /** R: its distance from the mean of those left, in their standard deviations. */
  statistic: number;
  /** λ. */
  critical: number;
}

export interface ExtremeDeviates {
  significance: number;
  stages: DeviateStage[];
  /** The outliers, furthest first. */
  outliers: number[];
  /** What limits these figures, in words. */
  notes: string[];
}

const LEAST_PIECES = 15;

/** From here on the critical values are very accurate, by Rosner's own study. */
const ENOUGH_PIECES = 25;

/**
 * Outliers, several at once, among normal readings: the generalised extreme Studentized deviate test. The furthest is
 * taken away again and again; all up to the last stage whose R exceeds λ are outliers, also where stages before do not.
 * Source: Rosner, Technometrics 25 (1983); NIST/SEMATECH e-Handbook 1.3.5.17.3.
 * @param most how many are looked for; up to a fifth of the readings, 10 unless told
 */
export function extremeDeviates(
  sorted: SortedValues,
  most = Math.min(10, Math.floor(sorted.length / 5)),
  significance = 0.05,
): ExtremeDeviates | Refused {
  const n = sorted.length;
  if (n < LEAST_PIECES) return { refused: `Several outliers are told from at least ${LEAST_PIECES} readings.` };
  if (sorted[0] === sorted[n - 1]) return { refused: 'All readings are equal, so none is an outlier.' };
  if (!(Number.isInteger(most) && most >= 1 && most <= n / 5)) throw new RangeError(`${most} outliers of ${n}`);

  // Sums over those that no stage can take away are made once. About the median, which is never further from the mean
  // than a standard deviation: nothing is lost in the difference of squares.
  const centre = sorted[n >> 1] as number;
  const inner = sumsAbout(centre, sorted.subarray(most, n - most));
  const stages: DeviateStage[] = [];
  let [low, high] = [0, n];
  let found = 0;
  for (let stage = 1; stage <= most; stage++) {
    const lowest = sorted[low] as number;
    const highest = sorted[high - 1] as number;
    if (lowest === highest) break;
    const left = high - low;
    const below = sumsAbout(centre, sorted.subarray(low, most));
    const above = sumsAbout(centre, sorted.subarray(n - most, high));
    const sum = inner.sum + below.sum + above.sum;
    const squares = inner.squares + below.squares + above.squares - (sum * sum) / left;
    const mean = centre + sum / left;
    const takeLowest = mean - lowest > highest - mean;
    const value = takeLowest ? lowest : highest;
    const statistic = Math.abs(value - mean) / Math.sqrt(squares / (left - 1));
    const critical = criticalValue(left, significance);
    stages.push({ value, statistic, critical });
    if (statistic > critical) found = stage;
    if (takeLowest) low++;
    else high--;
  }
  return {
    significance,
    stages,
    outliers: stages.slice(0, found).map((stage) => stage.value),
    notes: [
      `Looked for up to ${most} outliers.`,
      ...(n < ENOUGH_PIECES ? [`With fewer than ${ENOUGH_PIECES} readings the critical values are approximate.`] : []),
    ],
  };
}

function sumsAbout(centre: number, values: Float64Array): { sum: number; squares: number } {
  let [sum, squares] = [0, 0];
  for (const value of values) {
    const deviation = value - centre;
    sum += deviation;
    squares += deviation * deviation;
  }
  return { sum, squares };
}

/** λ with this many readings left, the one tested among them. */
function criticalValue(left: number, significance: number): number {
  const t = tQuantile(significance / (2 * left), left - 2);
  return ((left - 1) * Math.abs(t)) / Math.sqrt((left - 2 + t * t) * left);
}
