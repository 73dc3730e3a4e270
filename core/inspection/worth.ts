import Big from 'big.js';
import { calibrationAt } from '../accuracy/calibration.ts';
import { mostDriftOhms } from '../drift/mostDrift.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { rangeInUse } from '../readiness/rangeInUse.ts';
import { leadChangeOhms } from '../readiness/zeroChange.ts';
import {
  type MeasuredReference,
  type ReadingBudget,
  type ReadingWorth,
  readingBudget,
  readingWorth,
  type Situation,
} from '../uncertainty/readingBudget.ts';
import type { Reading, ReferenceShown, Run } from './run.ts';

/** What of a run the worth of a reading depends on. */
export type AtTheBench = Pick<
  Run,
  | 'meter'
  | 'measurement'
  | 'window'
  | 'temperature'
  | 'ambientCelsius'
  | 'zeroOhms'
  | 'shortedOhms'
  | 'shortedReadings'
  | 'reference'
  | 'scatter'
>;

/**
 * What a reading of this run is worth: its budget of uncertainty (JCGM 100) from what is known at the bench now.
 * @param reading its value less the zero, before it is brought to the reference temperature, and the meter's text
 * @param at the time of the reading: the meter's limits of error count while its calibration is in date
 */
export function worthOf(
  run: AtTheBench,
  { ohms, raw }: Pick<Reading, 'raw'> & { ohms: DecimalText },
  at: string,
): ReadingBudget {
  return readingBudget(situationOf(run, { ohms, raw }, at));
}

/** U and k of a reading alone: see {@link worthOf}. */
export function uncertaintyOf(
  run: AtTheBench,
  reading: Pick<Reading, 'raw'> & { ohms: DecimalText },
  at: string,
): ReadingWorth {
  return readingWorth(situationOf(run, reading, at));
}

function situationOf(
  run: AtTheBench,
  { ohms, raw }: Pick<Reading, 'raw'> & { ohms: DecimalText },
  at: string,
): Situation {
  const { meter, measurement, window, temperature, ambientCelsius, shortedOhms, reference } = run;
  const { method } = measurement;
  return {
    ohms,
    raw,
    method,
    meterRange: meter && rangeInUse({ meter, measurement }, ohms),
    meterData: meter?.data ?? null,
    trustMeterData: meter !== null && calibrationAt(meter, at).state === 'in-date',
    ambientCelsius,
    zero: { readings: run.shortedReadings },
    leadChangeOhms: method === '4-wire' || !meter ? '0' : leadChange(meter, window, shortedOhms),
    reference: reference && withMostDrift(window, reference),
    repeatability: repeatabilityOf(run, ohms),
    temperature,
  };
}

/** Of a quotient that may have no end; rounded up, for it is a bound. */
const DIGITS_OF_DRIFT = 6;

const withMostDrift = rememberLast((window: Run['window'], reference: ReferenceShown): MeasuredReference => {
  const { ohms, resolutionOhms } = reference;
  const most = mostDriftOhms(window, ohms, resolutionOhms).prec(DIGITS_OF_DRIFT, Big.roundUp);
  return { ...reference, mostDriftOhms: plain(most) };
});

const leadChange = rememberLast((...bench: Parameters<typeof leadChangeOhms>) => plain(leadChangeOhms(...bench)));

/** Digits of a standard deviation that go on; more would say nothing. */
const DIGITS = 4;

/**
 * Repeatability at this value: the pooled standard deviation of the readings of the reference, in the proportion of the values
 * where the reference is the smaller one. Null where no reference was read more than once.
 */
function repeatabilityOf({ scatter }: AtTheBench, ohms: DecimalText) {
  const { squares, degreesOfFreedom, atOhms } = scatter;
  if (degreesOfFreedom === 0) return null;
  const times = Math.max(1, Math.abs(Number(ohms)) / Number(atOhms));
  const deviation = Math.sqrt(squares / degreesOfFreedom) * times;
  return repeatability(deviation, degreesOfFreedom);
}

const repeatability = rememberLast((deviation: number, degreesOfFreedom: number) => ({
  ohms: new Big(deviation.toPrecision(DIGITS)).toFixed(),
  degreesOfFreedom,
}));
