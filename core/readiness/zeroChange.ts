import Big from 'big.js';
import type { MeterFacts } from '../inspection/event.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { toleranceOhms, type Window } from '../window/window.ts';

// Our choices. What clean contacts and leads that are moved about may come to, with room for noise on a high range.
export const STEADY_OHMS = '0.1';
export const STEADY_OF_RANGE = '0.00005';
const HALF = '0.5';
/** The rule of ten (common practice). */
const SHARE_OF_TOLERANCE = '0.1';

/** How steady shorted leads must be, in ohms: 0.1 Ω, or 0.005 % of the range where that is more. */
export function steadyOhms({ setting }: Pick<MeterFacts, 'setting'>): Big {
  const share = new Big(setting.rangeOhms ?? 0).times(STEADY_OF_RANGE);
  return share.gt(STEADY_OHMS) ? share : new Big(STEADY_OHMS);
}

/**
 * How much leads and contacts may change between two rounds of checks before the readings between them are in doubt, in ohms:
 * half of what the leads show, or as much as they must be steady, whichever is more; never above a tenth of the tolerance.
 * A change of the zero beyond it fails the check, so it is also the bound that goes into the uncertainty of a reading.
 */
export function leadChangeOhms(
  meter: Pick<MeterFacts, 'setting'>,
  window: Pick<Window, 'lower' | 'upper'>,
  shortedOhms: DecimalText | null,
): Big {
  const half = new Big(shortedOhms ?? 0).abs().times(HALF);
  const steady = steadyOhms(meter);
  const change = half.gt(steady) ? half : steady;
  const most = toleranceOhms(window).times(SHARE_OF_TOLERANCE);
  return change.gt(most) ? most : change;
}
