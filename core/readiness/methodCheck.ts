import Big from 'big.js';
import { rangesFor } from '../accuracy/chooseRange.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { toleranceOhms } from '../window/window.ts';
import { type Bench, failed, type Judged, passed } from './bench.ts';
import { isTooMuch, shareOf } from './share.ts';

/** Below this, leads and contacts are too much of the value for 2-wire, whatever was subtracted. Our choice. */
const LEAST_2_WIRE_OHMS = '1';
/** Above this, insulation, leakage and noise are too much for a bench meter. Our choice. */
const MOST_OHMS = '1e8';

/**
 * Whether method and range fit the job, in figures: nothing is measured for it, it follows from the window, from what the
 * shorted leads showed, and from the ranges of the meter.
 */
export function judgeMethod({ measurement: { method }, window, shortedOhms, meter }: Bench): Judged {
  const largest = new Big(window.upper ?? window.lower ?? 0);
  const tolerance = toleranceOhms(window);
  const leads = new Big(shortedOhms ?? 0);
  const share = shareOf(leads, tolerance);
  const within = `the tolerance of ±${formatOhms(tolerance)}`;

  if (largest.gt(MOST_OHMS)) {
    return failed(
      `${formatOhms(largest)} is above the ${formatOhms(MOST_OHMS)} that a bench meter reads well`,
      'Use an instrument made for high resistance',
    );
  }
  const widest = meter.data && rangesFor(meter.data, method).at(-1)?.fullScaleOhms;
  if (widest && largest.gt(widest)) {
    return failed(
      `${formatOhms(largest)} is above ${formatOhms(widest)}, the largest ${method} range of this meter`,
      'Use an instrument made for high resistance',
    );
  }
  if (method === '4-wire') {
    if (isTooMuch(leads, tolerance)) {
      return failed(
        `what is left of the leads in 4-wire, ${formatOhms(leads)}, is ${share} of ${within}`,
        'Clean and tighten the contacts; if it stays, use an instrument made for very low resistance',
      );
    }
    return passed(`4-wire; what is left of the leads, ${formatOhms(leads)}, is ${share} of ${within}`);
  }
  if (largest.lt(LEAST_2_WIRE_OHMS)) {
    return failed(
      `${formatOhms(largest)} is below the ${formatOhms(LEAST_2_WIRE_OHMS)} from which 2-wire can be used`,
      'Use 4-wire: receive the lot for it',
    );
  }
  if (isTooMuch(leads, tolerance)) {
    return failed(`leads of ${formatOhms(leads)} are ${share} of ${within}`, 'Use 4-wire: receive the lot for it');
  }
  return passed(`2-wire; leads of ${formatOhms(leads)}, which are subtracted, are ${share} of ${within}`);
}
