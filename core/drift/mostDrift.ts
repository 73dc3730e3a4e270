import Big from 'big.js';
import type { DecimalText } from '../quantity/decimal.ts';
import { toleranceOhms, type Window } from '../window/window.ts';

/** A share of the tolerance that the meter may move between two checks: the rule of ten (common practice). */
const SHARE_OF_TOLERANCE = '0.1';
/** A change that the last digits alone may show is none. Our choice. */
const LAST_DIGITS = 2;

/**
 * How far a meter may move, at the value of a reference, between two checks before the readings between them are in doubt: as
 * large a share of the reference's value as a tenth of the tolerance is of the window's limit, or two of its last digits. Where
 * a meter is trusted by its reference alone, it is also what goes into the uncertainty of a reading.
 * @param resolutionOhms what the last digit of the meter is worth
 */
export function mostDriftOhms(window: Window, referenceOhms: DecimalText, resolutionOhms: DecimalText): Big {
  const limit = new Big(window.upper ?? window.lower ?? 0).abs();
  const digits = new Big(resolutionOhms).times(LAST_DIGITS);
  if (limit.eq(0)) return digits;
  const share = toleranceOhms(window).times(SHARE_OF_TOLERANCE).times(referenceOhms).div(limit);
  return share.gt(digits) ? share : digits;
}
