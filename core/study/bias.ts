import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { meanOf, squaresAboutMean } from './deviations.ts';

/** The mean of readings against a known value. */
export interface Bias {
  /** Mean less reference, in ohms. */
  biasOhms: number;
  /** Standard uncertainty of the bias, in ohms: of the mean, and of the reference where it is known. */
  uncertaintyOhms: number;
  /** Effective degrees of freedom; null where only the reference's uncertainty counts. */
  df: number | null;
  t: number | null;
  /** Probability of so large a |t| where there is no bias. */
  p: number | null;
  /** 95 % interval of the bias, in ohms. */
  interval: { lowerOhms: number; upperOhms: number } | null;
}

const COVERED = 0.975;
const EXPANDED_BY = 2;

/**
 * Bias with its t test. The means must be independent of each other: those of runs where there are several, else of
 * sessions, else single readings. The t test and the interval include the reference's uncertainty, with effective
 * degrees of freedom by Welch-Satterthwaite (JCGM 100:2008, 4.2, 5.1 and G.4.1), so that a reference that is not known
 * well enough never proves a bias.
 * @param differences at least two means, each less the reference value, in ohms
 * @param referenceUncertaintyOhms expanded uncertainty (k = 2) of the reference; 0 where it is not known
 */
export function biasOf(differences: readonly number[], referenceUncertaintyOhms: number): Bias {
  const n = differences.length;
  const biasOhms = meanOf(differences);
  const ofMean = Math.sqrt(squaresAboutMean(differences) / (n - 1) / n);
  const uncertaintyOhms = Math.hypot(ofMean, referenceUncertaintyOhms / EXPANDED_BY);
  if (uncertaintyOhms === 0) return { biasOhms, uncertaintyOhms, df: null, t: null, p: null, interval: null };
  const t = biasOhms / uncertaintyOhms;
  // Beyond this the t distribution is the normal one to all digits.
  const df = ofMean === 0 ? null : Math.min(1e6, (n - 1) * (uncertaintyOhms / ofMean) ** 4);
  const factor = df === null ? normalQuantile(COVERED, 0, 1) : tQuantile(COVERED, df);
  return {
    biasOhms,
    uncertaintyOhms,
    df,
    t,
    p: Math.min(1, 2 * tCdf(-Math.abs(t), df ?? 1e6)),
    interval: { lowerOhms: biasOhms - factor * uncertaintyOhms, upperOhms: biasOhms + factor * uncertaintyOhms },
  };
}
