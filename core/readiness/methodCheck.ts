import Big from 'big.js';
import { rangesFor } from '../accuracy/chooseRange.ts';
import { limitOfError } from '../accuracy/limitOfError.ts';
import { worthOf } from '../inspection/worth.ts';
import { Problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { selfHeating } from '../uncertainty/selfHeating.ts';
import { testUncertaintyRatio } from '../uncertainty/testUncertaintyRatio.ts';
import { acceptanceLimits, guardOhms } from '../window/decisionRule.ts';
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
 * shorted leads showed, from the ranges and the accuracy of the meter, and from what a reading at the window's largest limit is
 * worth by all that is known now.
 * @param at the time of the check
 */
export function judgeMethod(bench: Bench, at: string): Judged {
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
    return exactEnough(bench, at, `4-wire; what is left of the leads, ${formatOhms(leads)}, is ${share} of ${within}`);
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
  return exactEnough(
    bench,
    at,
    `2-wire; leads of ${formatOhms(leads)}, which are subtracted, are ${share} of ${within}`,
  );
}

/** A limit of error beyond the tolerance leaves nothing to decide, whatever the decision rule. */
function exactEnough(bench: Bench, at: string, why: string): Judged {
  const { window, meter } = bench;
  const largest = plain(new Big(window.upper ?? window.lower ?? 0));
  const range = rangeInUse(bench, largest);
  if (!meter.data || !range) return worthEnough(bench, at, largest, why);
  const tolerance = toleranceOhms(window);
  const limit = new Big(limitOfError(meter.data, range, largest));
  if (limit.lte(tolerance)) return worthEnough(bench, at, largest, why);
  return failed(
    `the meter's limit of error of ±${formatOhms(limit)} is ${shareOf(limit, tolerance)} of the tolerance of ±${formatOhms(tolerance)}`,
    'Use a meter or a range that is more exact',
  );
}

/** What a reading at the window's largest limit is worth, and whether the decision rule can be followed with that. */
function worthEnough(bench: Bench, at: string, largest: DecimalText, why: string): Judged {
  const { window, decision, temperature, ambientCelsius, part } = bench;
  const heating = selfHeating(largest, rangeInUse(bench, largest), part.ratedWatts)?.warning ?? null;
  const warnings = (...more: (string | null)[]) =>
    [heating, ...more].flatMap((each) => (each ? [`. ${each}`] : [])).join('');
  // The ambient temperature comes after this check: in the first round what it adds is left out, and said so.
  const early = ambientCelsius === null;
  const known = early
    ? { ...bench, temperature: { ...temperature, coefficient: { kind: 'unknown' as const } } }
    : bench;
  const {
    expandedOhms,
    coverageFactor,
    why: restsOn,
  } = worthOf(known, { ohms: largest, raw: asRead(bench, largest) }, at);
  if (expandedOhms === null) {
    if (decision.rule !== 'simple-acceptance') {
      return failed(
        `the decision rule of the lot needs the uncertainty of a reading. ${restsOn.replace(/\.$/, '')}`,
        'Enter the accuracy of the meter, measure a reference resistor, or receive the lot with simple acceptance',
      );
    }
    return passed(`${why}. ${restsOn.replace(/\.$/, '')}${warnings()}`);
  }
  const guard = guardOhms(decision, expandedOhms);
  try {
    acceptanceLimits(window, guard);
  } catch (thrown) {
    if (!(thrown instanceof Problem && thrown.code === 'guard-bands-meet')) throw thrown;
    return failed(thrown.what, thrown.toDo.replace(/\.$/, ''));
  }
  const found = testUncertaintyRatio(window, expandedOhms);
  const before = early ? '; without what the ambient temperature adds, which is not known yet' : '';
  const worth = `a reading of ${formatOhms(largest)} is worth ±${formatOhms(expandedOhms)} (k = ${coverageFactor}${before})`;
  const ratio = found?.ratio == null ? '' : `, test uncertainty ratio ${found.ratio}`;
  return passed(`${why}; ${worth}${ratio}${warnings(found?.warning ?? null)}`);
}

/**
 * A value as this meter would send it, ending at the digit it has shown of the reference, or of the shorted leads where no
 * reference was measured.
 */
function asRead({ reference, shortedReadings }: Bench, ohms: DecimalText): string {
  const digit = reference ? new Big(reference.resolutionOhms) : lastDigitOf(shortedReadings[0] ?? '0');
  return digit.eq(0) ? ohms : `${new Big(ohms).div(digit).toFixed(0)}E${digit.e}`;
}

function lastDigitOf(text: DecimalText): Big {
  return new Big(`1e${-(text.split('.')[1]?.length ?? 0)}`);
}
