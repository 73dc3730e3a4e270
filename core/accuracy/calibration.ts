import type { MeterFacts } from '../inspection/event.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import type { MeterData } from './meterData.ts';

/** How the calibration of a meter stands. Only `in-date` decides a lot without an override. */
export type Calibration =
  | { state: 'in-date'; why: string }
  | { state: 'overdue'; why: string }
  | { state: 'unknown'; why: string };

/** A meter as far as its calibration goes. */
export interface Calibrated {
  identity: Pick<MeterFacts['identity'], 'simulated'>;
  data: MeterData | null;
}

/**
 * How the calibration of a meter stands at a point in time: in date from the day of the calibration to the due day, both
 * inside, and no longer than the days its limits of error hold. Dates are calendar days where the bench stands, as the
 * offset of `at` gives them. The simulated bench is always in date: it is practice.
 * @param at ISO 8601 with offset
 */
export function calibrationAt({ identity, data }: Calibrated, at: string): Calibration {
  return calibrationOn(identity.simulated, data, at.slice(0, 10));
}

const calibrationOn = rememberLast((simulated: boolean, data: MeterData | null, today: string): Calibration => {
  if (simulated) return { state: 'in-date', why: 'the simulated bench needs no calibration' };
  if (data === null) return { state: 'unknown', why: 'no calibration of this meter is known' };
  const { date, due, certificate } = data.calibration;
  const valid = dayAfter(date, data.validDays);
  if (today < date) return { state: 'overdue', why: `the calibration is dated ${date}, a day that is still to come` };
  if (today > due) return { state: 'overdue', why: `the calibration was due on ${due}` };
  if (today > valid) {
    return {
      state: 'overdue',
      why: `the limits of error hold for ${data.validDays} days from ${date}, to ${valid}`,
    };
  }
  return { state: 'in-date', why: `calibrated on ${date}, certificate ${certificate}, due on ${due}` };
});

/** The calendar day so many days after another. */
function dayAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}
