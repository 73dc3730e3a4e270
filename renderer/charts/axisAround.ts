import Big from 'big.js';
import { showOhms } from '../../core/quantity/formatOhms.ts';

/** An axis that ends at round figures. */
export interface Axis {
  from: number;
  to: number;
  /** Where it is marked, from end to end. */
  ticks: readonly number[];
  /** The power of ten its marks are multiples of. */
  resolution: number;
}

/** Spaces between marks, about. */
const SPACES = 4;
/** Below this share of their size doubles cannot tell marks apart; below so many of anything there is nothing to tell. */
const TOLD_APART = 1e-12;
const NOTHING = 1e-30;

/**
 * An axis around values from `lowest` to `highest`: marks at 1, 2 or 5 times a power of ten, the first at or below and the
 * last at or above all values. Where all values are equal there is room to both sides.
 */
export function axisAround(lowest: number, highest: number): Axis {
  const middle = (lowest + highest) / 2;
  const isOne = highest - lowest <= Math.max(Math.abs(middle) * TOLD_APART, NOTHING);
  const around = Math.abs(middle) * 1e-3;
  const half = isOne ? (around > NOTHING ? around : 1) : (highest - lowest) / 2;
  const least = (2 * half) / SPACES;
  const resolution = 10 ** Math.floor(Math.log10(least));
  const step = ([1, 2, 5].find((factor) => factor * resolution >= least) ?? 10) * resolution;
  const [first, last] = [Math.floor((middle - half) / step), Math.ceil((middle + half) / step)];
  const ticks = Array.from({ length: last - first + 1 }, (_, index) => (first + index) * step);
  return { from: first * step, to: last * step, ticks, resolution };
}

/** A mark of an axis in ohms, all marks in one unit, like `4.702 kΩ`. */
export function ohmsTick(value: number, { from, to, resolution }: Axis): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(resolution) + 0.5));
  const like = Math.max(Math.abs(from), Math.abs(to));
  const { figures, unit } = showOhms(value.toFixed(decimals), {
    like: new Big(like.toPrecision(6)),
    resolutionOhms: new Big(resolution.toPrecision(1)).toFixed(),
  });
  return `${figures}\u00a0${unit}`;
}

/** A mark of an axis in per cent, like `−0.2 %`. */
export function percentTick(value: number, { resolution }: Axis): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(resolution) + 0.5));
  return `${value.toFixed(decimals).replace('-', '\u2212')}\u00a0%`;
}
