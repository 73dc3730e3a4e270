import Big from 'big.js';
import type { DecimalText } from './decimal.ts';

/** Beyond this many decimals a figure is as good as 0. */
const MOST_DECIMALS = 12;
const PERCENT = 100;

/**
 * A figure rounded to so many significant digits, as plain decimals, trailing zeros kept; at most 12 decimals where no other
 * number is given, so that what is smaller than 5e-13 is 0.
 * @param value finite
 */
export function significant(value: number, digits: number, mostDecimals = MOST_DECIMALS): DecimalText {
  // Less than half of the last decimal, however it is rounded to its digits first.
  if (Math.abs(value) < 4 * 10 ** -(mostDecimals + 1)) return '0';
  const rounded = new Big(value.toPrecision(digits));
  if (rounded.eq(0)) return '0';
  const decimals = Math.max(0, digits - 1 - rounded.e);
  if (decimals <= mostDecimals) return rounded.toFixed(decimals);
  const cut = rounded.round(mostDecimals);
  return cut.eq(0) ? '0' : cut.toFixed();
}

/** A share, 0 to 1, in per cent; see {@link significant}. */
export function significantPercent(share: number, digits: number): DecimalText {
  return significant(share * PERCENT, digits);
}
