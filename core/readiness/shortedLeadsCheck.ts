import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { formatOhms, resolutionOfRaw } from '../quantity/formatOhms.ts';
import { toleranceOhms } from '../window/window.ts';
import { type Bench, failed, type Judged, passed, shownAs } from './bench.ts';
import type { Found } from './check.ts';
import { medianOf, valuesOf } from './median.ts';
import { firstToBeProven } from './round.ts';
import { isTooMuch, shareOf } from './share.ts';
import { leadChangeOhms, steadyOhms } from './zeroChange.ts';

// Our choices: what good leads and clean contacts show, with room for a meter's noise on a high range.
const FEWEST_READINGS = 3;
const MOST_OHMS = '1';
const MOST_OF_RANGE = '0.0001';
const LEAST_TO_TELL_OHMS = '0.005';
const DIGITS_TO_TELL = 4;

/**
 * Leads that touch each other: several readings near zero and steady. In 2-wire their median is the zero that is
 * subtracted from then on. In 4-wire nothing is subtracted, and it is shown whether the sense leads are connected.
 */
export function judgeShortedLeads(bench: Bench, found: readonly Found[]): Judged {
  const { method } = bench.measurement;
  const readings = shownAs(found, method);
  if (readings.length < FEWEST_READINGS) {
    throw problem('check-incomplete', 'shorted-leads', `${FEWEST_READINGS} ${method} readings`);
  }
  if (readings.some(({ value }) => value === null)) {
    return failed(
      'overload with shorted leads',
      'Look for a broken lead, a loose plug, a tip that does not touch, and in 4-wire for a sense lead that hangs free',
    );
  }
  const values = valuesOf(found, method);
  const [lowest, highest] = [values[0] as Big, values.at(-1) as Big];
  const median = new Big(medianOf(found, method) as string);
  const spread = highest.minus(lowest);
  const most = limitFor(bench, MOST_OHMS, MOST_OF_RANGE);
  const mostSpread = steadyOhms(bench.meter);
  if (lowest.lt(mostSpread.neg())) {
    return failed(
      `${formatOhms(lowest)} with shorted leads, further below zero than ${formatOhms(mostSpread)} of noise`,
      'Look for a voltage on the leads, and for a zero that was set on the meter itself',
    );
  }
  if (highest.gt(most)) {
    return failed(
      `${formatOhms(highest)} with shorted leads, more than ${formatOhms(most)}`,
      'Clean and tighten plugs and tips, or take better leads',
    );
  }
  if (spread.gt(mostSpread)) {
    return failed(
      `${formatOhms(lowest)} to ${formatOhms(highest)} with shorted leads: they are not steady within ${formatOhms(mostSpread)}`,
      'Hold the tips firmly; clean and tighten plugs and tips; look for a lead that breaks when it is moved',
    );
  }
  const steady = `${formatOhms(median)} with shorted leads, ${readings.length} readings within ${formatOhms(spread)}`;
  const changed = method === '2-wire' ? zeroChange(bench, median) : null;
  if (changed) return changed;
  if (method === '2-wire') return passed(`${steady}; subtracted from now on`, median.toFixed());
  return judgeSense(bench, found, steady);
}

/**
 * The zero moved further than the readings between allow for; null where none are to be proven. Against the zero they were
 * taken with, so that a check done again and again cannot creep away from it.
 */
function zeroChange(bench: Bench, median: Big): Judged | null {
  const before = firstToBeProven(bench)?.zeroOhms;
  if (before === undefined) return null;
  const most = leadChangeOhms(bench.meter, bench.window, before);
  const change = median.minus(before);
  if (change.abs().lte(most)) return null;
  return failed(
    `${formatOhms(median)} with shorted leads, ${formatOhms(change.abs())} ${change.gt(0) ? 'more' : 'less'} than before, and no more than ${formatOhms(most)} is allowed for`,
    'Clean and tighten plugs and tips; the readings since the last checks are taken again',
  );
}

/**
 * Whether the sense leads are connected, from one reading each in 2-wire and 4-wire on the range the meter chooses itself. A
 * sense lead that hangs free makes the meter show about what 2-wire shows, or overload. Connected they take the leads out,
 * so that 4-wire shows no more than half of the 2-wire reading. Leads of too few digits cannot tell; then they may stay
 * untold only if all of them together are no more than a tenth of the tolerance, for that is the most that a free sense
 * lead could add.
 */
function judgeSense({ meter, window }: Bench, found: readonly Found[], steady: string): Judged {
  const [twoWire] = shownAs(found, '2-wire-automatic');
  const [fourWire] = shownAs(found, '4-wire-automatic');
  if (!twoWire || !fourWire) {
    if (meter.measures.includes('2-wire')) {
      throw problem('check-incomplete', 'shorted-leads', 'a reading each in 2-wire and 4-wire on automatic range');
    }
    return passed(`${steady}; whether the sense leads are connected cannot be told without 2-wire`);
  }
  if (twoWire.value === null) {
    return failed('overload in 2-wire with shorted leads', 'Look for a broken lead or a tip that does not touch');
  }
  const leads = new Big(twoWire.value);
  const beside = `2-wire shows ${formatOhms(leads)} at the same place`;
  const least = leastToTell(twoWire);
  if (leads.gte(least)) {
    const shown = fourWire.value === null ? 'overload' : formatOhms(fourWire.value);
    if (fourWire.value !== null && new Big(fourWire.value).lte(leads.times('0.5'))) {
      return passed(`${steady}; ${beside}, 4-wire ${shown}: the sense leads are connected`);
    }
    return failed(
      `${shown} in 4-wire, and ${beside}: the sense leads are not connected`,
      'Connect both sense leads at the tips, and clean their contacts',
    );
  }
  const tolerance = toleranceOhms(window);
  const untold = `${beside}, too little to tell the sense leads by`;
  const share = shareOf(least, tolerance);
  if (isTooMuch(least, tolerance)) {
    return failed(
      `${untold}, and ${formatOhms(least)} would be ${share} of the tolerance`,
      'Take longer leads for this check, or use an instrument made for very low resistance',
    );
  }
  return passed(`${steady}; ${untold}; hanging free they would add no more than ${share} of the tolerance`);
}

/** The least that leads must show in 2-wire to be told from nothing: four of its last digits, and never below 5 mΩ. */
function leastToTell({ raw }: Found): Big {
  const digits = new Big(resolutionOfRaw(raw) ?? 0).times(DIGITS_TO_TELL);
  return digits.gt(LEAST_TO_TELL_OHMS) ? digits : new Big(LEAST_TO_TELL_OHMS);
}

/** A limit in ohms, or its share of the range where that is more. */
function limitFor({ meter: { setting } }: Bench, ohms: string, ofRange: string): Big {
  const share = new Big(setting.rangeOhms ?? 0).times(ofRange);
  return share.gt(ohms) ? share : new Big(ohms);
}
