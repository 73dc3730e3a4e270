import erfcinv from '@stdlib/math-base-special-erfcinv';

/**
 * The value that a standard normal variable exceeds with this probability: √2 erfc⁻¹(2p), with all digits in the upper tail, where
 * a quantile of 1 - p has none left (NIST Digital Library of Mathematical Functions, 7.2.2 and 7.17).
 * @param probability between 0 and 1; 0 gives infinity, 1 minus infinity
 */
export function exceededWith(probability: number): number {
  return Math.SQRT2 * erfcinv(2 * probability);
}
