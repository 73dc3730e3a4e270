import Big from 'big.js';
import type { DecimalText } from '../quantity/decimal.ts';

export interface Statistics {
  lowest: DecimalText;
  highest: DecimalText;
  mean: DecimalText;
  /** Decimals the mean is rounded to. */
  decimals: number;
}

/**
 * Lowest, highest and mean of readings in ohms; null where there is none. Exact decimals; only the mean is rounded, half
 * to even, to two decimals more than the reading with most of them.
 */
export function statisticsOf(ohms: readonly DecimalText[]): Statistics | null {
  const [first] = ohms;
  if (first === undefined) return null;
  let sum = new Big(0);
  let lowest = new Big(first);
  let highest = lowest;
  let [lowestText, highestText] = [first, first];
  let finest = 0;
  for (const text of ohms) {
    const value = new Big(text);
    sum = sum.plus(value);
    if (value.lt(lowest)) [lowest, lowestText] = [value, text];
    if (value.gt(highest)) [highest, highestText] = [value, text];
    finest = Math.max(finest, text.split('.')[1]?.length ?? 0);
  }
  const decimals = finest + 2;
  // A constructor of our own, since big.js divides to the decimals set on the constructor of the dividend.
  const Rounding = Big();
  Rounding.DP = decimals;
  Rounding.RM = 2;
  const mean = new Rounding(sum).div(ohms.length).toFixed(decimals);
  return { lowest: lowestText, highest: highestText, mean, decimals };
}
