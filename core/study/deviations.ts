import Big from 'big.js';
import type { DecimalText } from '../quantity/decimal.ts';

/**
 * Readings in ohms as what they differ from the first, subtracted in exact decimals before they become doubles, so that
 * no digit is lost where all readings begin alike (4700.0001, 4700.0003).
 */
export function deviationsOf(ohms: readonly DecimalText[]): { base: number; deviations: number[] } {
  const base = new Big(ohms[0] ?? '0');
  return { base: Number(base), deviations: ohms.map((value) => Number(new Big(value).minus(base))) };
}

/** Mean in two passes: the mean, corrected by the mean of what is left of it. Of at least one value. */
export function meanOf(values: readonly number[]): number {
  const first = sum(values) / values.length;
  return first + sum(values.map((value) => value - first)) / values.length;
}

/** Sum of the squared deviations from the mean, two passes. */
export function squaresAboutMean(values: readonly number[]): number {
  const mean = meanOf(values);
  return sumOfSquares(values.map((value) => value - mean));
}

export function sumOfSquares(values: readonly number[]): number {
  return sum(values.map((value) => value * value));
}

export function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

/** The value in ohms of the finest last digit among these texts. */
export function finestDigitOhms(ohms: readonly DecimalText[]): number {
  let decimals = 0;
  for (const text of ohms) decimals = Math.max(decimals, text.split('.')[1]?.length ?? 0);
  return Number(`1e-${decimals}`);
}
