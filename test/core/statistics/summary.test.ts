import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RunningSummary } from '../../../core/statistics/runningSummary.ts';
import { lag1Autocorrelation, summaryOf } from '../../../core/statistics/summary.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { skipSaying } from '../../skipSaying.ts';
import { given, refusal } from './given.ts';
import { numAcc, piDigits, strdReadings } from './strd.ts';

/** Significant digits that agree. */
function digits(value: number, certified: number): number {
  if (value === certified) return 16;
  return -Math.log10(Math.abs(value - certified) / Math.abs(certified));
}

// NIST Statistical Reference Datasets, univariate: certified mean, standard deviation, lag-1 autocorrelation. The issue
// asks for 9 digits of NumAcc4's standard deviation; taken between decimals it has all that are printed.
const CERTIFIED: [dataset: string, readings: () => number[] | null, mean: number, sd: number, lag1: number][] = [
  ['NumAcc1', () => numAcc(1), 10000002, 1, -0.5],
  ['NumAcc2', () => numAcc(2), 1.2, 0.1, -0.999],
  ['NumAcc3', () => numAcc(3), 1000000.2, 0.1, -0.999],
  ['NumAcc4', () => numAcc(4), 10000000.2, 0.1, -0.999],
  ['PiDigits', () => piDigits(), 4.5348, 2.86733906028871, -0.00355099287237972],
  ['Lottery', () => strdReadings('Lottery'), 518.95871559633, 291.699727470969, -0.120948622967393],
  ['Lew', () => strdReadings('Lew'), -177.435, 277.332168044316, -0.307304800605679],
  ['Mavro', () => strdReadings('Mavro'), 2.001856, 0.000429123454003053, 0.937989183438248],
  ['Michelso', () => strdReadings('Michelso'), 299.8524, 0.0790105478190518, 0.535199668621283],
];

describe('NIST StRD, at once and reading by reading', () => {
  it.each(CERTIFIED)('%s', (dataset, readings, mean, sd, lag1) => {
    const values = readings();
    if (values === null) return; // said aloud by strdReadings
    const summary = given(summaryOf(values));
    expect(digits(summary.mean, mean)).toBeGreaterThan(14);
    expect(digits(summary.standardDeviation as number, sd)).toBeGreaterThan(13);
    expect(digits(given(lag1Autocorrelation(values)).coefficient, lag1)).toBeGreaterThan(
      dataset === 'PiDigits' ? 12 : 13,
    );
    const running = new RunningSummary();
    for (const value of values) running.add(value);
    expect(running.summary()).toEqual(summary);
  });

  it('generates what is stored', (test) => {
    for (const [name, made] of [
      ['NumAcc1', numAcc(1)],
      ['NumAcc2', numAcc(2)],
      ['NumAcc3', numAcc(3)],
      ['NumAcc4', numAcc(4)],
      ['PiDigits', piDigits()],
    ] as const) {
      const stored = strdReadings(name);
      if (stored === null) skipSaying(test, 'there is no shared folder');
      expect(made).toEqual(stored);
    }
  });
});

describe('a summary', () => {
  it('keeps its digits where the first reading is far off', () => {
    // By hand: 0.1 and then 1 000 000.1, .2, .3: the last three alone have mean .2 and s 0.1, and the sum of squares
    // about the mean of all four is 0.02 + 3/4·(1000000.1)².
    const summary = given(summaryOf([0.1, 1000000.1, 1000000.2, 1000000.3]));
    expect(summary.mean).toBeCloseTo(750000.175, 9);
    expect(digits(summary.standardDeviation as number, Math.sqrt((0.02 + 0.75 * 1000000.1 ** 2) / 3))).toBeGreaterThan(
      14,
    );
  });

  it('refuses no reading, knows no spread of one, and takes no value that is no number', () => {
    expect(refusal(summaryOf([]))).toMatch(/no reading/);
    expect(given(summaryOf([4.7]))).toEqual({
      n: 1,
      mean: 4.7,
      standardDeviation: null,
      lowest: 4.7,
      highest: 4.7,
      range: 0,
    });
    expect(() => summaryOf([1, Number.NaN])).toThrow(/figure-not-finite/);
    expect(() => sortedOf([1, Number.NaN, 2])).toThrow(/figure-not-finite/);
    expect(() => sortedOf([1, Number.NEGATIVE_INFINITY])).toThrow(/figure-not-finite/);
    expect(refusal(summaryOf([1e200, -1e200]))).toMatch(/too large/);
    expect(refusal(lag1Autocorrelation([1, 2]))).toMatch(/at least 3/);
    expect(refusal(lag1Autocorrelation([2, 2, 2]))).toMatch(/equal/);
  });

  it('gives equal readings no spread at all, whatever the value', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e12, noNaN: true }), fc.integer({ min: 2, max: 50 }), (value, n) => {
        expect(given(summaryOf(new Array(n).fill(value))).standardDeviation).toBe(0);
      }),
    );
  });

  const readings = fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 2, maxLength: 60 });

  it('follows shift and scale', () => {
    fc.assert(
      fc.property(
        readings,
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.integer({ min: 1, max: 1000 }),
        (values, by, times) => {
          const plain = given(summaryOf(values));
          const moved = given(summaryOf(values.map((value) => (value * times + by) / 1000)));
          expect(moved.mean).toBeCloseTo((plain.mean * times + by) / 1000, 6);
          const sd = ((plain.standardDeviation as number) * times) / 1000;
          expect(Math.abs((moved.standardDeviation as number) - sd)).toBeLessThanOrEqual(1e-12 * sd);
        },
      ),
    );
  });

  it('does not depend on the order', () => {
    fc.assert(
      fc.property(readings, (values) => {
        const there = given(summaryOf(values));
        const back = given(summaryOf([...values].reverse()));
        expect(back.mean).toBeCloseTo(there.mean, 8);
        expect(Math.abs((back.standardDeviation as number) - (there.standardDeviation as number))).toBeLessThanOrEqual(
          1e-13 * (there.standardDeviation as number),
        );
      }),
    );
  });
});
