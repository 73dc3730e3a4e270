import type { DecimalText } from '../../core/quantity/decimal.ts';
import type { Window } from '../../core/window/window.ts';

/** The stretch of values a window bar or a chart shows, in ohms, and where the band lies on it. Only for drawing. */
export interface WindowScale {
  from: number;
  to: number;
  /** The band as shares of the stretch, 0 to 1. An end that is no limit reaches the end of the line. */
  band: { start: number; end: number };
  nominal: number | null;
}

/**
 * The one scale rule of the window bar: the line reaches half a window beyond each limit.
 * A one-sided window is as wide as twice the way from its limit to the nominal value, or as the limit itself where there
 * is no nominal; towards its open side the line reaches one and a half of that, but not below 0 Ω.
 */
export function windowScale(window: Window): WindowScale {
  const lower = window.lower === null ? null : Number(window.lower);
  const upper = window.upper === null ? null : Number(window.upper);
  const nominal = window.nominal === null ? null : Number(window.nominal);
  const limit = lower ?? upper ?? 0;
  const toNominal = nominal === null ? 0 : 2 * Math.abs(nominal - limit);
  const width = (lower !== null && upper !== null ? upper - lower : toNominal || Math.abs(limit)) || 1;

  const from = lower !== null ? lower - width / 2 : Math.max(0, limit - 1.5 * width);
  const to = upper !== null ? upper + width / 2 : limit + 1.5 * width;
  const share = (ohms: number) => (ohms - from) / (to - from);
  return {
    from,
    to,
    band: { start: lower === null ? 0 : share(lower), end: upper === null ? 1 : share(upper) },
    nominal: nominal === null ? null : share(nominal),
  };
}

/** Where a value stands on the line: a share from 0 to 1, or beyond one of its ends. */
export interface Place {
  at: number;
  beyond: 'below' | 'above' | null;
}

/** Where a reading stands on the scale; an overload (null) lies beyond the upper end. */
export function placeOn(scale: WindowScale, ohms: DecimalText | null): Place {
  if (ohms === null) return { at: 1, beyond: 'above' };
  const at = (Number(ohms) - scale.from) / (scale.to - scale.from);
  if (at < 0) return { at: 0, beyond: 'below' };
  if (at > 1) return { at: 1, beyond: 'above' };
  return { at, beyond: null };
}

/** The shares of the line from 0 to 1 where a stretch of values begins and ends, as far as the line reaches. */
export function within(scale: WindowScale, stretch: { from: number; to: number }): { from: number; to: number } {
  const share = (ohms: number) => Math.min(1, Math.max(0, (ohms - scale.from) / (scale.to - scale.from)));
  return { from: share(stretch.from), to: share(stretch.to) };
}
