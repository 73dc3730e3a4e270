import Big from 'big.js';
import { rangesFor } from '../accuracy/chooseRange.ts';
import { limitOfError } from '../accuracy/limitOfError.ts';
import { plain } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { toleranceOhms } from '../window/window.ts';
import { type Bench, failed, type Judged, passed } from './bench.ts';
import { rangeInUse } from './rangeInUse.ts';
import { isTooMuch, shareOf } from './share.ts';

/** Below this, leads and contacts are too much of the value for 2-wire, whatever was subtracted. Our choice. */
const LEAST_2_WIRE_OHMS = '1';
/** Above this, insulation, leakage and noise are too much for a bench meter. Our choice. */
const MOST_OHMS = '1e8';

/**
 * Whether method and range fit the job, in figures: nothing is measured for it, it follows from the window, from what the
 * shorted leads showed, and from the ranges and the accuracy of the meter.
 */
export function judgeMethod(bench: Bench): Judged {
  const {
    measurement: { method },
    window,
    shortedOhms,
    meter,
  } = bench;
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
    return exactEnough(bench, `4-wire; what is left of the leads, ${formatOhms(leads)}, is ${share} of ${within}`);
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
  return exactEnough(bench, `2-wire; leads of ${formatOhms(leads)}, which are subtracted, are ${share} of ${within}`);
}

/**
 * How verdicts count the meter's error is a matter of the decision rule; a limit of error beyond the tolerance leaves nothing
 * to decide.
 */
function exactEnough(bench: Bench, why: string): Judged {
  const { window, meter } = bench;
  const largest = plain(new Big(window.upper ?? window.lower ?? 0));
  const range = rangeInUse(bench, largest);
  if (!meter.data || !range) return passed(why);
  const tolerance = toleranceOhms(window);
  const limit = new Big(limitOfError(meter.data, range, largest));
  if (limit.lte(tolerance)) return passed(why);
  return failed(
    `the meter's limit of error of ±${formatOhms(limit)} is ${shareOf(limit, tolerance)} of the tolerance of ±${formatOhms(tolerance)}`,
    'Use a meter or a range that is more exact',
  );
}
