import Big from 'big.js';
import { shift } from './decimal.ts';
import { rememberLast } from './rememberLast.ts';

const PREFIXES: readonly (readonly [power: number, prefix: string])[] = [
  [12, 'T'],
  [9, 'G'],
  [6, 'M'],
  [3, 'k'],
  [0, ''],
  [-3, 'm'],
];

/** A resistance ready to be shown: figures and unit apart, so that a screen can set them in different sizes. */
export interface ShownOhms {
  figures: string;
  unit: string;
}

/** The prefix that leaves one to three digits before the decimal point; milli for anything below an ohm but zero. */
function prefixFor(value: Big): readonly [power: number, prefix: string] {
  if (value.eq(0)) return [0, ''];
  const size = value.abs();
  return PREFIXES.find(([power]) => size.gte(`1e${power}`)) ?? [-3, 'm'];
}

/**
 * Shows an exact resistance with an SI prefix.
 * With `resolutionOhms` (the value of the last digit the meter gave) the figures end at that digit, trailing zeros
 * kept, so that a reading never looks finer or coarser than it was; without it the exact value is shown.
 * `like` takes the prefix from another value, so that figures shown together share one unit.
 */
export function showOhms(
  ohms: string | Big,
  options: { resolutionOhms?: string; like?: string | Big } = {},
): ShownOhms {
  const value = new Big(ohms);
  const [power, prefix] = prefixFor(new Big(options.like ?? value));
  const scaled = shift(value, -power);
  const unit = `${prefix}Ω`;
  if (options.resolutionOhms === undefined) return { figures: scaled.toFixed(), unit };
  const decimals = decimalsOf(shift(new Big(options.resolutionOhms), -power));
  return { figures: scaled.toFixed(decimals), unit };
}

/** As one text, like `4.700 kΩ`. See {@link showOhms}. */
export function formatOhms(ohms: string | Big, options: { resolutionOhms?: string; like?: string | Big } = {}): string {
  const { figures, unit } = showOhms(ohms, options);
  return `${figures} ${unit}`;
}

/** How many digits after the point a number whose only significant digit is its last one needs. */
function decimalsOf(resolution: Big): number {
  return Math.max(0, -resolution.e);
}

/**
 * The value in ohms of the last digit a meter sent, from its raw text in NR1, NR2 or NR3 (IEEE 488.2, 7.7.2 to 7.7.4).
 * `+4.70213E+03` ends at 0.01 Ω. Returns null when the text is no such number.
 */
export function resolutionOfRaw(raw: string): string | null {
  return resolutionOf(raw);
}

/** Of one reading it is asked several times in a row. */
const resolutionOf = rememberLast((raw: string): string | null => {
  const match = /^\s*[+-]?(\d*)(?:\.(\d*))?(?:\s*[eE]\s*([+-]?\d+))?\s*$/.exec(raw);
  if (!match || (!match[1] && !match[2])) return null;
  const exponent = Number(match[3] ?? 0) - (match[2] ?? '').length;
  if (Math.abs(exponent) > 60) return null;
  return exponent >= 0 ? `1${'0'.repeat(exponent)}` : `0.${'0'.repeat(-exponent - 1)}1`;
});
