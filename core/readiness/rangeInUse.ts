import { rangeHolding, rangeOf } from '../accuracy/chooseRange.ts';
import type { MeterRange } from '../accuracy/meterData.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Bench } from './bench.ts';

/**
 * The range the meter data give for the setting; on automatic range the smallest that holds the reading. Null where they
 * give none.
 */
export function rangeInUse(
  { meter: { data, setting }, measurement: { method } }: Pick<Bench, 'meter' | 'measurement'>,
  ohms: DecimalText,
): MeterRange | null {
  if (!data) return null;
  if (setting.range === 'auto') return rangeHolding(data, method, ohms);
  return setting.rangeOhms === null ? null : rangeOf(data, method, setting.rangeOhms);
}
