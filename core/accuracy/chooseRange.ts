import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import type { Window } from '../window/window.ts';
import { limitOfError } from './limitOfError.ts';
import type { MeterData, MeterRange } from './meterData.ts';

export type Method = '2-wire' | '4-wire';

/** How far above its full scale a range still reads with most meters (common practice). */
export const OVER_RANGE = '1.2';

/** The ranges a meter has for a method, smallest full scale first. */
export const rangesFor = rememberLast((data: Pick<MeterData, 'ranges'>, method: Method): readonly MeterRange[] =>
  data.ranges
    .filter((range) => range.method === method || range.method === 'both')
    .sort((a, b) => new Big(a.fullScaleOhms).cmp(b.fullScaleOhms)),
);

/** The range with this full scale; null where the meter data have none. */
export const rangeOf = rememberLast(
  (data: Pick<MeterData, 'ranges'>, method: Method, fullScaleOhms: DecimalText): MeterRange | null =>
    rangesFor(data, method).find((range) => new Big(range.fullScaleOhms).eq(fullScaleOhms)) ?? null,
);

/**
 * The smallest range that holds a reading: the one an automatic meter is on; the largest also a little above its full
 * scale, as meters read there. Null where none does.
 */
export function rangeHolding(data: Pick<MeterData, 'ranges'>, method: Method, ohms: DecimalText): MeterRange | null {
  const ranges = rangesFor(data, method);
  const size = new Big(ohms).abs();
  const found = ranges.find((range) => size.lte(range.fullScaleOhms));
  const largest = ranges.at(-1);
  return found ?? (largest && size.lte(new Big(largest.fullScaleOhms).times(OVER_RANGE)) ? largest : null);
}

/**
 * The range for a window: of those that hold all of it, the one with the smallest limit of error at its worst place, which
 * is its upper limit. Null where the window has no upper limit: no fixed range holds it, so the meter must choose.
 * @throws problems accuracy-missing where the data have no range for the method, range-too-small where none holds it
 */
export function chooseRange(
  data: Pick<MeterData, 'ranges' | 'ambient'>,
  method: Method,
  window: Pick<Window, 'upper'>,
): MeterRange | null {
  const { upper } = window;
  if (upper === null) return null;
  const ranges = rangesFor(data, method);
  const largest = ranges.at(-1);
  if (!largest) throw problem('accuracy-missing', `the meter data have no ${method} range`);
  let best: { range: MeterRange; limit: Big } | null = null;
  for (const range of ranges) {
    if (new Big(range.fullScaleOhms).lt(upper)) continue;
    const limit = new Big(limitOfError(data, range, upper));
    if (best === null || limit.lt(best.limit)) best = { range, limit };
  }
  if (best === null) throw problem('range-too-small', method, largest.fullScaleOhms, upper);
  return best.range;
}
