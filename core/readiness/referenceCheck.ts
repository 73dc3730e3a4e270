import Big from 'big.js';
import { OVER_RANGE, rangeHolding } from '../accuracy/chooseRange.ts';
import { limitOfError } from '../accuracy/limitOfError.ts';
import { Problem, problem } from '../problem/problem.ts';
import { plain, subtract } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { toleranceOhms } from '../window/window.ts';
import { type Bench, failed, type Judged, passed, shownAs } from './bench.ts';
import type { Found, ReferenceFacts } from './check.ts';
import { rangeInUse } from './rangeInUse.ts';

/**
 * A reference smaller than this share of the window's limit shows little of the range it is read on; one larger than so many
 * times the limit shows nothing of the limit's range, where the meter chooses its range itself. Our choice.
 */
const LEAST_SHARE = '0.1';
const MOST_TIMES = '10';
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
    const judged = readings.map((reading) => judgeReading(bench, reading, reference));
    const bad = judged.find(({ outcome }) => outcome === 'failed');
    return bad ?? passed(`${judged.map(({ why }) => why).join('; ')}; due on ${due}`);
  } catch (thrown) {
    if (!(thrown instanceof Problem && thrown.code === 'accuracy-missing')) throw thrown;
    return failed(thrown.what, `${thrown.toDo.replace(/\.$/, '')}, or do without the reference, with name and reason`);
  }
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
  return failed(
    `${said}, more than ±${plain(allowed)} Ω: ${parts}`,
    'Clean the contacts, let everything take the temperature of the room and read again; if it stays, do not use this meter',
  );
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
