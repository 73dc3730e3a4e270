import Big from 'big.js';
import { calibrationAt } from '../accuracy/calibration.ts';
import { OVER_RANGE } from '../accuracy/chooseRange.ts';
import { problem } from '../problem/problem.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { type Bench, failed, type Judged, passed, shownAs } from './bench.ts';
import type { Found } from './check.ts';

/**
 * The right meter, set as the job needs, its calibration in date or overridden. Its answer to who it is
 * is asked anew; its settings are those it reported itself when they were made and read back.
 */
export function judgeMeter(bench: Bench, found: readonly Found[], at: string): Judged {
  const { meter, overridden } = bench;
  const [identity, ...more] = shownAs(found, 'identity');
  if (!identity || more.length > 0) throw problem('check-incomplete', 'meter', 'one answer to who the meter is');
  if (identity.raw !== meter.identity.text) {
    return failed(
      `"${identity.raw}" answers instead of "${meter.identity.text}"`,
      'Connect the meter the run began with, or connect this one anew before the first reading',
    );
  }
  const fault = settingFault(bench);
  if (fault !== null) return failed(fault.why, fault.toDo);
  const calibration = calibrationAt(meter, at);
  if (calibration.state === 'in-date') return passed(`the meter of this run, ${calibration.why}`);
  if (overridden) {
    return passed(`the meter of this run; ${calibration.why}; overridden by ${overridden.by}: ${overridden.reason}`);
  }
  return failed(
    calibration.why,
    calibration.state === 'unknown'
      ? "Enter the meter's calibration and accuracy, or override it with name and reason"
      : 'Use a meter that is in date, or override its calibration with name and reason',
  );
}

/** What of the setting is not as the job needs it, and what to do; null where all is. */
function settingFault({ meter: { setting }, measurement, window }: Bench): { why: string; toDo: string } | null {
  const otherwise = (why: string, toDo = 'Connect the meter anew, and leave its keys alone') => ({ why, toDo });
  if (setting.function !== measurement.method) {
    return otherwise(`the meter measures ${setting.function}, and this lot is to be measured ${measurement.method}`);
  }
  if (setting.range === 'auto') {
    // A window without an upper limit has no range that holds it.
    if (measurement.range === 'auto' || window.upper === null) return null;
    return otherwise(
      'the meter cannot be told its range, and this lot is to be measured on a fixed one',
      "Receive the lot for the meter's own range, or use a meter that can be told",
    );
  }
  if (measurement.range === 'auto') return otherwise('the meter is on a fixed range');
  const range = setting.rangeOhms;
  if (range === null) return otherwise('the meter does not say on which range it is');
  if (window.upper !== null && new Big(range).times(OVER_RANGE).lt(window.upper)) {
    return otherwise(
      `the range ${formatOhms(range)} does not hold the window's upper limit ${formatOhms(window.upper)}`,
    );
  }
  if (!(Number(setting.integrationCycles) >= Number(measurement.integrationCycles))) {
    return otherwise(
      `the meter integrates over ${setting.integrationCycles} mains cycles instead of ${measurement.integrationCycles}`,
    );
  }
  return null;
}
