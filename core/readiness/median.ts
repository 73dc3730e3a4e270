import Big from 'big.js';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import type { Found, FoundWhat } from './check.ts';

/** The exact values of what was shown, overloads left out, in order of size. */
export function valuesOf(found: readonly Found[], what: FoundWhat): Big[] {
  return found
    .flatMap((one) => (one.what === what && one.value !== null ? [new Big(one.value)] : []))
    .sort((a, b) => a.cmp(b));
}

/** The median of the values of what was shown; of an even number of them the mean of the middle two. Null of none. */
export function medianOf(found: readonly Found[], what: FoundWhat): DecimalText | null {
  const values = valuesOf(found, what);
  const upper = values[Math.floor(values.length / 2)];
  const lower = values[Math.ceil(values.length / 2) - 1];
  if (!upper || !lower) return null;
  return plain(upper.eq(lower) ? upper : upper.plus(lower).times('0.5'));
}
