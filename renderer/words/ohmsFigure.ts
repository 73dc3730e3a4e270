import Big from 'big.js';
import { formatOhms } from '../../core/quantity/formatOhms.ts';

/**
 * A figure that was worked out, in ohms, rounded to so many significant digits, like `1.23 mΩ`; zeros behind are kept off.
 * @param like a value whose unit it shares, so that a column has one
 */
export function ohmsFigure(ohms: number, options: { significant?: number; like?: number } = {}): string {
  const { significant = 4, like } = options;
  const rounded = new Big(ohms.toPrecision(significant));
  return formatOhms(rounded, like === undefined || like === 0 ? {} : { like: new Big(like) }).replace(' ', '\u00a0');
}

/** The same with its sign, as differences have it. */
export function signedOhms(ohms: number, options: { significant?: number; like?: number } = {}): string {
  return `${ohms > 0 ? '+' : ''}${ohmsFigure(ohms, options)}`.replace('-', '\u2212');
}
