import Big from 'big.js';
import { OVER_RANGE, rangeHolding } from '../accuracy/chooseRange.ts';
import { limitOfError } from '../accuracy/limitOfError.ts';
import { enOf, meanOf } from '../drift/meterDrift.ts';
import { mostDriftOhms } from '../drift/mostDrift.ts';
import { Problem, problem } from '../problem/problem.ts';
import { plain, subtract } from '../quantity/decimal.ts';
import { formatOhms, resolutionOfRaw } from '../quantity/formatOhms.ts';
import { toleranceOhms } from '../window/window.ts';
import { type Bench, failed, type Judged, passed, shownAs } from './bench.ts';
import type { Found, ReferenceFacts } from './check.ts';
import { rangeInUse } from './rangeInUse.ts';
import { firstToBeProven } from './round.ts';

/**
 * A reference smaller than this share of the window's limit shows little of the range it is read on; one larger than so many
 * times the limit shows nothing of the limit's range, where the meter chooses its range itself. Our choice.
 */
const LEAST_SHARE = '0.1';
const MOST_TIMES = '10';
const DIGITS = 6;
const DO_NOT_AGREE =
  'Clean the contacts, let everything take the temperature of the room and read again; if it stays, do not use this meter';
const CHOOSE_ANOTHER = 'Choose a reference near the value of the pieces';

/**
 * A reference resistor, read as the pieces are: each reading less the zero must be within the reference's uncertainty plus
 * the meter's limit of error, around the reference's value. The two are added: neither may use up the other's part.
 * A reference known worse, for its size, than the pieces' tolerance is wide would let a wrong meter pass.
 * The ambient temperature is the one of the round before; in the first round, where none is known yet, the smaller limit
 * of the ambient band holds.
 */
export function judgeReference(
  bench: Bench,
  found: readonly Found[],
  reference: ReferenceFacts | null,
  at: string,
): Judged {
  if (reference === null) throw problem('reference-missing');
  const { method } = bench.measurement;
  const readings = shownAs(found, method);
  if (readings.length === 0) throw problem('check-incomplete', 'reference', `a ${method} reading`);
  const { name, ohms, uncertaintyOhms, due } = reference;
  if (at.slice(0, 10) > due) {
    return failed(`the reference ${name} was due on ${due}`, 'Take one that is in date');
  }
  const limit = new Big(bench.window.upper ?? bench.window.lower ?? 0);
  if (new Big(ohms).lt(limit.times(LEAST_SHARE))) {
    return failed(
      `the reference of ${formatOhms(ohms)} is less than a tenth of the window's limit of ${formatOhms(plain(limit))}`,
      CHOOSE_ANOTHER,
    );
  }
  if (new Big(ohms).gt(limit.times(MOST_TIMES)) && isOnAnotherRange(bench, ohms, plain(limit))) {
    return failed(
      `the reference of ${formatOhms(ohms)} is more than ten times the window's limit of ${formatOhms(plain(limit))}, and the meter reads it on another range`,
      CHOOSE_ANOTHER,
    );
  }
  const tolerance = toleranceOhms(bench.window);
  if (new Big(uncertaintyOhms).times(limit).gt(tolerance.times(ohms))) {
    return failed(
      `the uncertainty of ±${uncertaintyOhms} Ω is a larger share of the reference's ${ohms} Ω than the tolerance of ±${plain(tolerance)} Ω is of the window's limit of ${plain(limit)} Ω`,
      'Choose a reference that is known better',
    );
  }
  try {
    const bad = readings
      .map((reading) => judgeReading(bench, reading, reference))
      .find(({ outcome }) => outcome === 'failed');
    return bad ?? judgeTogether(bench, readings, reference, at);
  } catch (thrown) {
    if (!(thrown instanceof Problem && thrown.code === 'accuracy-missing')) throw thrown;
    return failed(thrown.what, `${thrown.toDo.replace(/\.$/, '')}, or do without the reference, with name and reason`);
  }
}

/**
 * The readings together: whether meter and reference agree (E_n), and whether the meter has moved since the last check with
 * this reference, where readings that count were taken between.
 */
function judgeTogether(bench: Bench, readings: readonly Found[], reference: ReferenceFacts, at: string): Judged {
  const { name, ohms, uncertaintyOhms, due } = reference;
  const measuredOhms = readings.flatMap(({ value }) => (value === null ? [] : [subtract(value, bench.zeroOhms)]));
  const raw = readings[0]?.raw ?? '';
  const en = enOf(bench, { ohms, uncertaintyOhms, measuredOhms }, raw, at);
  const agree = en === null ? '' : `; E_n ${en.toFixed(2)}`;
  if (en !== null && Math.abs(en) > 1) {
    return failed(`the reference ${name} of ${ohms} Ω and the meter do not agree: E_n ${en.toFixed(2)}`, DO_NOT_AGREE);
  }
  const between = firstToBeProven(bench) !== undefined;
  // With readings between, against the check before them: one done again and again cannot creep away from it.
  const last = bench.references.findLast(
    (one) => one.passed && one.name === name && one.ohms === ohms && !(between && one.afterReading > bench.lastGood),
  );
  const most = mostDriftOhms(bench.window, ohms, resolutionOfRaw(raw) ?? '0');
  const drift = last ? meanOf(measuredOhms).minus(meanOf(last.measuredOhms)) : null;
  if (between && drift?.abs().gt(most)) {
    return failed(
      `the meter moved by ${drift.toFixed()} Ω on the reference ${name} since the last check, more than ±${plain(most.prec(DIGITS, Big.roundDown))} Ω: a tenth of the tolerance, or two last digits`,
      'Let the meter warm up and take the temperature of the room; the readings since the last checks are taken again',
    );
  }
  const moved = drift === null ? '' : `; moved by ${drift.toFixed()} Ω since the last check`;
  const [worst] = readings.toSorted((a, b) => offBy(bench, b, ohms).cmp(offBy(bench, a, ohms)));
  const of = readings.length === 1 ? '' : `, the furthest of ${readings.length} readings`;
  const { why } = judgeReading(bench, worst as Found, reference);
  return passed(`${why}${of}${agree}${moved}; due on ${due}`);
}

/** How far a reading less the zero is from the reference, in ohms, whichever way. */
function offBy({ zeroOhms }: Bench, { value }: Found, ohms: string): Big {
  return new Big(value ?? 0).minus(zeroOhms).minus(ohms).abs();
}

function judgeReading(bench: Bench, { value }: Found, reference: ReferenceFacts): Judged {
  const { name, ohms, uncertaintyOhms } = reference;
  if (value === null) {
    return failed(`overload with the reference ${name} on the probes`, 'Look for an open contact, or choose another');
  }
  const measured = subtract(value, bench.zeroOhms);
  const range = rangeInUse(bench, value);
  const { data } = bench.meter;
  if (!data || !range) throw problem('accuracy-missing', missingWords(bench, value));
  if (new Big(value).gt(new Big(range.fullScaleOhms).times(OVER_RANGE))) {
    return failed(
      `the reference of ${formatOhms(ohms)} is above the range ${formatOhms(range.fullScaleOhms)}`,
      CHOOSE_ANOTHER,
    );
  }
  const meterOhms = limitOfError(data, range, value, bench.ambientCelsius);
  const allowed = new Big(uncertaintyOhms).plus(meterOhms);
  const off = new Big(measured).minus(ohms);
  const parts = `±${uncertaintyOhms} Ω of the reference and ±${meterOhms} Ω of the meter`;
  const said = `the reference ${name} of ${ohms} Ω reads ${measured} Ω, ${off.toFixed()} Ω off`;
  if (off.abs().lte(allowed)) return passed(`${said}; allowed are ±${plain(allowed)} Ω: ${parts}`);
  return failed(`${said}, more than ±${plain(allowed)} Ω: ${parts}`, DO_NOT_AGREE);
}

/** Whether a meter that chooses its range itself reads the two on different ones. */
function isOnAnotherRange({ meter: { data, setting }, measurement: { method } }: Bench, a: string, b: string): boolean {
  if (setting.range === 'fixed' || !data) return false;
  return rangeHolding(data, method, a)?.fullScaleOhms !== rangeHolding(data, method, b)?.fullScaleOhms;
}

function missingWords({ meter: { data, setting }, measurement: { method } }: Bench, value: string): string {
  if (!data) return 'nobody has entered it';
  const range = setting.range === 'fixed' ? `the ${method} range ${setting.rangeOhms} Ω` : `${value} Ω in ${method}`;
  return `there is nothing for ${range}`;
}
