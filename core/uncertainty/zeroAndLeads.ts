import Big from 'big.js';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { type Input, withinOhms } from './budget.ts';

/** What the zero and the leads of a reading are known by. */
export interface ZeroFacts {
  method: '2-wire' | '4-wire';
  /** What the shorted leads showed; their median is what is subtracted from readings in 2-wire. */
  zero: { readings: readonly DecimalText[] };
  /** How much leads and contacts may change between two checks; 0 in 4-wire. */
  leadChangeOhms: DecimalText;
}

/** Lines of the budget, and what is to be said of them. */
export interface ZeroAndLeads {
  inputs: Input[];
  notes: string[];
}

/**
 * A median scatters more than a mean: for many normal values √(π/2) times as much, for few of them a little less. Kendall and
 * Stuart, The Advanced Theory of Statistics (from memory).
 */
const MEDIAN_TO_MEAN = Math.sqrt(Math.PI / 2);
const FIGURES = 3;

/**
 * What the zero, the leads and the contacts contribute. In 2-wire: the scatter of the zero (type A, of a median), its last
 * digit, and how much leads and contacts may change until the next check. In 4-wire nothing is subtracted, and the sense leads
 * leave the leads out.
 * @param resolutionOhms what the last digit of the reading is worth: that of a zero without decimals is no finer
 */
export function zeroAndLeadsPart(
  { method, zero: { readings }, leadChangeOhms }: ZeroFacts,
  resolutionOhms: DecimalText,
): ZeroAndLeads {
  return partOf(method, readings, leadChangeOhms, resolutionOhms);
}

/** Between two checks of the bench nothing of it changes. */
const partOf = rememberLast(
  (
    method: ZeroFacts['method'],
    readings: readonly DecimalText[],
    leadChangeOhms: DecimalText,
    resolutionOhms: DecimalText,
  ): ZeroAndLeads => {
    if (method === '4-wire') {
      return { inputs: [], notes: ['4-wire: no zero is subtracted, and leads and contacts add nothing.'] };
    }
    const leads = withinOhms(
      'leads and contacts',
      'the most they may change until the next check; JCGM 100, 4.3.7',
      leadChangeOhms,
    );
    if (readings.length === 0) {
      return {
        inputs: [leads],
        notes: ['No zero was measured: what the leads add is in the reading, and in no line here.'],
      };
    }
    const digit = withinOhms(
      'resolution of the zero',
      'half of its last digit; JCGM 100, F.2.2.1',
      plain(lastDigit(readings, resolutionOhms).times('0.5')),
    );
    if (readings.length === 1) {
      return {
        inputs: [digit, leads],
        notes: ['The zero was read once: how far it scatters is not known and left out.'],
      };
    }
    return { inputs: [scatterInput(readings), digit, leads], notes: [] };
  },
);

function scatterInput(readings: readonly DecimalText[]): Input {
  const values = readings.map(Number);
  const count = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const deviation = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1));
  // Of two readings the median is the mean.
  const ofMedian = count === 2 ? 1 : MEDIAN_TO_MEAN;
  return {
    name: 'zero',
    source: `scatter of the median of ${count} readings with shorted leads; JCGM 100, 4.2.3`,
    given: `s = ${new Big(deviation.toPrecision(FIGURES)).toFixed()} Ω`,
    distribution: 'normal',
    divisor: Math.sqrt(count) / ofMedian,
    standardUncertainty: (deviation * ofMedian) / Math.sqrt(count),
    unit: 'Ω',
    sensitivity: -1,
    degreesOfFreedom: count - 1,
  };
}

function lastDigit(readings: readonly DecimalText[], resolutionOhms: DecimalText): Big {
  const decimals = Math.max(...readings.map((text) => text.split('.')[1]?.length ?? 0));
  const resolution = new Big(resolutionOhms);
  const digit = new Big(`1e${-decimals}`);
  return decimals === 0 && resolution.gt(digit) ? resolution : digit;
}
