import type { Drawing } from '../../../core/sampling/hypergeometric.ts';

// Chances in exact fractions of whole numbers, which share nothing with the program but their definition.

/** n over k. */
function choose(n: number, k: number): bigint {
  let product = 1n;
  let divisor = 1n;
  for (let i = 0; i < k; i++) {
    product *= BigInt(n - i);
    divisor *= BigInt(i + 1);
  }
  return product / divisor;
}

/** Chance of at most `most` nonconforming pieces in the sample: the sum of C(D, k)·C(N - D, n - k) over C(N, n). */
export function exactAtMost(most: number, { lotSize, nonconforming, sampleSize }: Drawing): number {
  const conforming = lotSize - nonconforming;
  const fewest = Math.max(0, sampleSize - conforming);
  let bad = choose(nonconforming, fewest);
  let good = choose(conforming, sampleSize - fewest);
  let sum = 0n;
  for (let found = fewest; found <= Math.min(most, sampleSize, nonconforming); found++) {
    sum += bad * good;
    bad = (bad * BigInt(nonconforming - found)) / BigInt(found + 1);
    good = (good * BigInt(sampleSize - found)) / BigInt(Math.max(1, conforming - sampleSize + found + 1));
  }
  return quotient(sum, choose(lotSize, sampleSize));
}

/** Chance of at most `most` in so many tries, each with the chance numerator/denominator. */
export function exactBinomialAtMost(most: number, tries: number, numerator: number, denominator: number): number {
  const [hit, miss] = [BigInt(numerator), BigInt(denominator - numerator)];
  let sum = 0n;
  for (let found = 0; found <= most; found++) {
    sum += choose(tries, found) * hit ** BigInt(found) * miss ** BigInt(tries - found);
  }
  return quotient(sum, BigInt(denominator) ** BigInt(tries));
}

/** A quotient as the double nearest to it, or next to that. */
function quotient(numerator: bigint, denominator: bigint): number {
  if (numerator === 0n) return 0;
  const shift = bits(denominator) - bits(numerator) + 70;
  const shifted = shift >= 0 ? numerator << BigInt(shift) : numerator >> BigInt(-shift);
  const half = Math.floor(shift / 2);
  return Number(shifted / denominator) * 2 ** -half * 2 ** (half - shift);
}

function bits(value: bigint): number {
  return 4 * value.toString(16).length;
}
