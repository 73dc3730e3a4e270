import Big from 'big.js';
import { formatOhms, resolutionOfRaw, type ShownOhms, showOhms } from '../../core/quantity/formatOhms.ts';
import type { Window } from '../../core/window/window.ts';

/** The value whose unit the figures of a window share: the first that is not zero, which has no unit of its own. */
export function unitValue(window: Window): string {
  const values = [window.nominal, window.upper, window.lower];
  return values.find((value) => value !== null && Number(value) !== 0) ?? '1';
}

/**
 * A reading to be shown, to its last digit. It shares the unit of its window as long as it is of the same order, so that
 * figures can be compared; a value far off is shown in its own unit, so that it is not drowned in zeros.
 */
export function showReading(reading: { ohms: string; raw: string }, window: Window): ShownOhms {
  const like = new Big(unitValue(window));
  const ohms = new Big(reading.ohms);
  const near = ohms.abs().gte(like.times('0.1')) && ohms.abs().lte(like.times(10));
  const resolutionOhms = resolutionOfRaw(reading.raw);
  return showOhms(ohms, {
    ...(resolutionOhms !== null && { resolutionOhms }),
    ...(near && { like }),
  });
}

/** A reading as text, like `4.70213 kΩ`, or `overload`. */
export function readingText(reading: { ohms: string | null; raw: string }, window: Window): string {
  if (reading.ohms === null) return 'overload';
  const { figures, unit } = showReading({ ohms: reading.ohms, raw: reading.raw }, window);
  return `${figures}\u00a0${unit}`;
}

/** A limit in the unit of its window, like `4.653 kΩ`; zero is zero ohms in any. */
export function limitText(limit: string, window: Window): string {
  if (Number(limit) === 0) return '0\u00a0Ω';
  return formatOhms(limit, { like: unitValue(window) }).replace(' ', '\u00a0');
}

/** The window in words: `4.653 kΩ to 4.747 kΩ`, `at most 0.1 Ω`, `at least 1 MΩ`. */
export function windowText(window: Window): string {
  if (window.lower === null) return window.upper === null ? 'no limits' : `at most ${limitText(window.upper, window)}`;
  if (window.upper === null) return `at least ${limitText(window.lower, window)}`;
  return `${limitText(window.lower, window)} to ${limitText(window.upper, window)}`;
}

/** How far a reading lies from the nominal value, like `0.46 % above nominal`; null where there is no nominal to compare. */
export function deviationText(ohms: string, window: Window): string | null {
  if (window.nominal === null || new Big(window.nominal).eq(0)) return null;
  const percent = new Big(ohms).minus(window.nominal).div(window.nominal).times(100);
  if (percent.abs().gt(1000)) return 'more than ten times nominal';
  const size = percent.abs().toFixed(percent.abs().lt(10) ? 2 : 0);
  if (new Big(size).eq(0)) return 'at nominal';
  return `${size}\u00a0% ${percent.gt(0) ? 'above' : 'below'} nominal`;
}
