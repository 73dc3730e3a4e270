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
  const decimals = Math.max(decimalsOf(value), decimalsOf(less));
  if (value.length + less.length + decimals <= FEW_CHARACTERS) {
    return fromWhole(wholeOf(value, decimals) - wholeOf(less, decimals), decimals);
  }
  return new Big(value).minus(less).toFixed(decimals);
}

/** Two numbers of so many characters together are whole numbers of their last digit that a double holds exactly. */
const FEW_CHARACTERS = 15;

/** A decimal as a whole number of its last digit. */
function wholeOf(text: DecimalText, decimals: number): number {
  return Number(text.replace('.', '') + '0'.repeat(decimals - decimalsOf(text)));
}

function fromWhole(whole: number, decimals: number): DecimalText {
  const digits = String(Math.abs(whole)).padStart(decimals + 1, '0');
  const sign = whole < 0 ? '-' : '';
  if (decimals === 0) return sign + digits;
  return `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

/**
 * Whether the first of two exact decimals is less than (below 0), equal to (0) or more than (above 0) the second. To round to the nearest
 * double keeps the order, so where their doubles differ that is the answer; else they are compared exactly.
 */
export function compareDecimals(first: DecimalText, second: DecimalText): number {
  if (first === second) return 0;
  const apart = Number(first) - Number(second);
  return apart === 0 || !Number.isFinite(apart) ? new Big(first).cmp(second) : apart;
}

/** How many digits stand behind the point. */
export function decimalsOf(text: DecimalText): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}
