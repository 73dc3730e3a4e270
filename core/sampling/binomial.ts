/**
 * Natural logarithm of the chance of exactly `found` in `tries` independent ones, each with chance `share`. By Stirling's formula
 * with its remainder and deviances that do not cancel, so that it is good to about 1e-15 of the logarithm's parts at any size,
 * where factorials as logarithms lose nine digits at half a million. Source: C. Loader, Fast and Accurate Computation of
 * Binomial Probabilities (2000).
 * @param found whole, 0 to tries
 * @param share between 0 and 1, both excluded
 * @param rest 1 - share, given apart because it may be known better than the subtraction
 */
export function logBinomial(found: number, tries: number, share: number, rest: number): number {
  if (found === 0) return tries * (share < 0.5 ? Math.log1p(-share) : Math.log(rest));
  if (found === tries) return tries * (rest < 0.5 ? Math.log1p(-rest) : Math.log(share));
  const missed = tries - found;
  const remainder = stirlingRemainder(tries) - stirlingRemainder(found) - stirlingRemainder(missed);
  const deviances = deviance(found, tries * share) + deviance(missed, tries * rest);
  return remainder - deviances - 0.5 * Math.log((2 * Math.PI * found * missed) / tries);
}

const SMALL = 16;
const smallRemainders = Array.from({ length: SMALL }, (_, n) => {
  let factorial = 1;
  for (let factor = 2; factor <= n; factor++) factorial *= factor;
  return n === 0 ? 0 : Math.log(factorial / Math.sqrt(2 * Math.PI * n)) - n * (Math.log(n) - 1);
});

/** ln n! less ln(√(2πn)·(n/e)ⁿ): by its series (Abramowitz and Stegun 6.1.41), for small n directly. */
function stirlingRemainder(n: number): number {
  if (n < SMALL) return smallRemainders[n] as number;
  const square = n * n;
  return (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / 1188 / square) / square) / square) / square) / n;
}

/** x·ln(x/mean) + mean - x, which is small near the mean: there by a series in which nothing cancels. */
function deviance(x: number, mean: number): number {
  const difference = x - mean;
  if (Math.abs(difference) >= 0.1 * (x + mean)) return x * Math.log(x / mean) - difference;
  const v = difference / (x + mean);
  let sum = difference * v;
  let term = 2 * x * v;
  for (let odd = 3; ; odd += 2) {
    term *= v * v;
    const next = sum + term / odd;
    if (next === sum) return sum;
    sum = next;
  }
}
