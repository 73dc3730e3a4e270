import Big from 'big.js';
import * as z from 'zod';

/** A number as exact decimal text without exponent, like `4653`, `0.47` or `-0.002`: how values travel and are kept. */
export type DecimalText = string;

/** Validates decimal text at a door. */
export const decimalText = z.string().regex(/^-?\d{1,60}(\.\d{1,60})?$/, 'expected a plain decimal number');

/** The shortest plain text of an exact decimal: no exponent, no trailing zeros. */
export function plain(value: Big): DecimalText {
  return value.toFixed();
}

/** Moves the decimal point of `value` by `places` (positive: larger). Exact, unlike a division. */
export function shift(value: Big, places: number): Big {
  return value.times(new Big(`1e${places}`));
}

/** `value` less `less`, exact, with as many decimals as the one with more of them: no digit that was measured is lost. */
export function subtract(value: DecimalText, less: DecimalText): DecimalText {
  if (less === '0') return value;
  return new Big(value).minus(less).toFixed(Math.max(decimalsOf(value), decimalsOf(less)));
}

function decimalsOf(text: DecimalText): number {
  return text.split('.')[1]?.length ?? 0;
}
