import chisquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import type { CrossedGrid } from './crossedGrid.ts';
import type { MeanSquare, VarianceTable } from './varianceTable.ts';

const TAIL = 0.025;

/** Limits of a standard deviation in ohms, with 95 % confidence. */
export interface SdInterval {
  lowerOhms: number;
  upperOhms: number;
}

/**
 * Confidence interval of the gauge's standard deviation by modified large samples. The gauge's variance, repeatability
 * and all reproducibility, is a sum of mean squares with positive weights:
 * [MS_operator + (p - 1) MS_interaction + p (r - 1) MS_repeatability] / (p r), or with the interaction pooled
 * [MS_operator + (p r - 1) MS_repeatability] / (p r).
 * Source: Graybill and Wang, "Confidence intervals on nonnegative linear combinations of variances", Journal of the
 * American Statistical Association 75 (1980); Burdick, Borror and Montgomery, "Design and Analysis of Gauge R&R Studies"
 * (2005) (both from memory).
 */
export function gaugeIntervalOf(grid: CrossedGrid, table: VarianceTable): SdInterval {
  const [p, r] = [grid.pieces.length, grid.repeats];
  const { operator, interaction, repeatability } = table;
  const terms: (readonly [weight: number, of: MeanSquare])[] =
    interaction === null
      ? [
          [1, operator],
          [p * r - 1, repeatability],
        ]
      : [
          [1, operator],
          [p - 1, interaction],
          [p * (r - 1), repeatability],
        ];
  let estimate = 0;
  let below = 0;
  let above = 0;
  for (const [weight, { df, value }] of terms) {
    const share = (weight / (p * r)) * value;
    estimate += share;
    below += ((1 - df / chisquareQuantile(1 - TAIL, df)) * share) ** 2;
    above += ((df / chisquareQuantile(TAIL, df) - 1) * share) ** 2;
  }
  return {
    lowerOhms: Math.sqrt(Math.max(0, estimate - Math.sqrt(below))),
    upperOhms: Math.sqrt(estimate + Math.sqrt(above)),
  };
}

/** Confidence interval of one standard deviation of normal readings, by the chi-squared distribution. */
export function sdIntervalOf({ sdOhms, df }: { sdOhms: number; df: number }): SdInterval {
  return {
    lowerOhms: sdOhms * Math.sqrt(df / chisquareQuantile(1 - TAIL, df)),
    upperOhms: sdOhms * Math.sqrt(df / chisquareQuantile(TAIL, df)),
  };
}
