import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type Bench, counted, failed, type Judged, passed, shownAs } from './bench.ts';
import type { Found } from './check.ts';

/** Most that may be between the probes, in volts. Our choice: far above a meter's offset, far below what spoils a reading. */
const MOST_VOLTS = '0.010';

/**
 * No DC voltage between the probes on the fixture, measured wherever the meter can. Where it cannot, the operator's word
 * is asked and recorded as that. It shows nothing about AC, about other points, or about what is there later, and is no
 * statement about safety.
 */
export function judgeNoVoltage({ meter }: Bench, found: readonly Found[]): Judged {
  const readings = shownAs(found, 'dc-volts');
  if (readings.length === 0) {
    if (!found.some(({ what }) => what === 'word')) {
      throw problem('check-incomplete', 'no-voltage', 'a reading of DC volts, or the word of whoever stands there');
    }
    if (meter.measures.includes('dc-volts')) throw problem('check-must-be-measured', 'no-voltage');
    return {
      outcome: 'by-word',
      why: 'not measured: the meter has no DC volts, and the operator says that nothing is live',
      zeroOhms: null,
    };
  }
  const isToo = ({ value }: Found) => value === null || new Big(value).abs().gt(MOST_VOLTS);
  const bad = readings.find(isToo);
  if (bad) {
    return failed(
      bad.value === null
        ? 'more DC volts between the probes than the meter reads'
        : `${bad.value} V DC between the probes`,
      'Stop. Have the fixture de-energised, isolated and discharged by whoever may do it, under local rules, and look for where the voltage comes from',
    );
  }
  const most = readings.map(({ value }) => new Big(value ?? 0).abs()).reduce((a, b) => (b.gt(a) ? b : a));
  // Rounded up, so that it holds.
  const millivolts = most.times(1000).round(3, Big.roundUp);
  const within = `no more than ${millivolts.toFixed()} mV DC between the probes when it was measured`;
  return passed(`${within}, ${counted(readings.length)}; limit ${new Big(MOST_VOLTS).times(1000).toFixed()} mV`);
}
