import Big from 'big.js';
import { formatOhms, showOhms } from '../../core/quantity/formatOhms.ts';
import type { Window } from '../../core/window/window.ts';
import { unitValue } from './ohms.ts';

/** Digits of a double that are its own. */
const SURE_DIGITS = 15;
/** A value is given to the third digit of the spread of its like: further digits say nothing. */
const DIGITS_OF_SPREAD = 3;
/** Digits of a value where there is no spread. */
const DIGITS_ALONE = 7;

/** A number to so many digits, without exponent and trailing zeros, like `0.0417`. */
export function figureText(value: number, digits = 3): string {
  return new Big(value.toPrecision(digits)).toFixed();
}

/** An index like `1.33`, two decimals. */
export function indexText(value: number): string {
  return value.toFixed(2);
}

/**
 * A value among readings in the unit of their window, like `4.7021 kΩ`, as fine as their spread lets it say something.
 * @param spread standard deviation of the readings; null or 0 where there is none
 */
export function valueText(ohms: number, window: Window, spread: number | null): string {
  const like = unitValue(window);
  if (spread === null || spread === 0) {
    return formatOhms(new Big(ohms.toPrecision(DIGITS_ALONE)), { like }).replace(' ', '\u00a0');
  }
  const place = Math.floor(Math.log10(spread)) + 1 - DIGITS_OF_SPREAD;
  const resolutionOhms = new Big(`1e${place}`).toFixed();
  const { figures, unit } = showOhms(new Big(ohms.toPrecision(SURE_DIGITS)), { like, resolutionOhms });
  return `${figures}\u00a0${unit}`;
}

/** A p-value: `0.23`, `0.012`, `less than 0.001`. */
export function pText(p: number): string {
  if (p < 0.001) return 'less than 0.001';
  return p.toFixed(p < 0.1 ? 3 : 2);
}

/** A share as per cent, like `99 %`. */
export function percentText(share: number): string {
  return `${figureText(share * 100, 4)}\u00a0%`;
}
