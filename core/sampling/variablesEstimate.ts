import betainc from '@stdlib/math-base-special-betainc';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/**
 * Estimated share of the lot beyond a limit that lies this many standard deviations from the mean of n pieces: the unbiased one of least
 * variance. Spread unknown: I_x(n/2 - 1, n/2 - 1) with x = ½ - ½·Q√n/(n - 1), no less than 0 and no more than 1; spread known:
 * Φ(-Q√(n/(n - 1))). Falls as Q rises.
 * Source: Lieberman and Resnikoff, Journal of the American Statistical Association 50 (1955); MIL-STD-414, Tables B-5 and D-5.
 * @param quality Q, any finite number
 * @param sampleSize 3 or more; spread known: 2 or more
 * @returns 0 to 1
 */
export function shareBeyond(quality: number, sampleSize: number, spread: 'unknown' | 'known'): number {
  if (spread === 'known') return normalCdf(-quality * Math.sqrt(sampleSize / (sampleSize - 1)), 0, 1);
  const x = 0.5 - (0.5 * quality * Math.sqrt(sampleSize)) / (sampleSize - 1);
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const half = sampleSize / 2 - 1;
  return betainc(x, half, half, true, false);
}
