import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { extremeDeviates } from '../../../core/statistics/extremeDeviates.ts';
import { grubbs } from '../../../core/statistics/grubbs.ts';
import { summaryOf } from '../../../core/statistics/summary.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { given, refusal } from './given.ts';

describe('Grubbs', () => {
  it('finds the mass-spectrometer value of Tietjen and Moore', () => {
    // NIST/SEMATECH e-Handbook 1.3.5.17.1: G 2.4687, which is 2.468765 cut off, and the one-sided
    // critical value 2.032 from memory, recomputed; more digits and two-sided computed only.
    const values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    const { highest, twoSided, lowest } = given(grubbs(given(summaryOf(values))));
    expect(highest.statistic).toBeCloseTo(2.468765, 6);
    expect(highest.critical).toBeCloseTo(2.031652, 6);
    expect(highest.outlier).toBe(true);
    expect(twoSided).toEqual({ ...highest, critical: twoSided.critical });
    expect(twoSided.critical).toBeCloseTo(2.126645, 6);
    expect(lowest.outlier).toBe(false);
  });

  it('finds none in the heat flow data', () => {
    // e-Handbook 1.4.2.8, 195 values of ZARR13, by its mean, s and extremes: G 2.918673 printed in single precision, from
    // memory; two-sided critical 3.597906 computed only (printed 3.597898).
    const summary = {
      n: 195,
      mean: 9.26146,
      standardDeviation: 0.022789,
      lowest: 9.196848,
      highest: 9.327973,
      range: 0.131125,
    };
    const { twoSided } = given(grubbs(summary));
    expect(twoSided.value).toBe(9.327973);
    expect(Math.abs(twoSided.statistic - 2.918673)).toBeLessThan(1e-4);
    expect(twoSided.critical).toBeCloseTo(3.597906, 6);
    expect(twoSided.outlier).toBe(false);
  });

  it('refuses in words, and warns of few', () => {
    expect(refusal(grubbs(given(summaryOf([1, 2]))))).toMatch(/at least 3/);
    expect(refusal(grubbs(given(summaryOf([2, 2, 2, 2]))))).toMatch(/equal/);
    expect(given(grubbs(given(summaryOf([1, 2, 4])))).notes).toHaveLength(1);
  });
});

// Rosner 1983 as in e-Handbook 1.3.5.17.3, from memory, recomputed.
const ROSNER = [
  -0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.7, 1.76, 1.77,
  1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.4, 2.47, 2.54, 2.62, 2.64,
  2.9, 2.92, 2.92, 2.93, 3.21, 3.26, 3.3, 3.59, 3.68, 4.3, 4.64, 5.34, 5.42, 6.01,
];

describe('generalised extreme Studentized deviates', () => {
  it('finds the three of Rosner, though the first two stages do not exceed', () => {
    const { stages, outliers } = given(extremeDeviates(sortedOf(ROSNER), 10));
    const statistics = [3.119, 2.943, 3.179, 2.81, 2.816, 2.848, 2.279, 2.31, 2.102, 2.067];
    const criticals = [3.159, 3.151, 3.144, 3.136, 3.128, 3.12, 3.112, 3.103, 3.094, 3.085];
    expect(stages).toHaveLength(10);
    for (const [i, stage] of stages.entries()) {
      expect(Math.abs(stage.statistic - (statistics[i] as number))).toBeLessThan(0.0015);
      expect(Math.abs(stage.critical - (criticals[i] as number))).toBeLessThan(0.0015);
    }
    expect(outliers).toEqual([6.01, 5.42, 5.34]);
  });

  it('begins with the statistic and the two-sided critical value of Grubbs', () => {
    const [first] = given(extremeDeviates(sortedOf(ROSNER))).stages;
    const { twoSided } = given(grubbs(given(summaryOf(ROSNER))));
    expect(first?.statistic).toBeCloseTo(twoSided.statistic, 12);
    expect(first?.critical).toBeCloseTo(twoSided.critical, 12);
  });

  it('keeps its digits where an outlier is a million times the spread', () => {
    const near = given(extremeDeviates(sortedOf(ROSNER), 5));
    const far = given(extremeDeviates(sortedOf([...ROSNER, 1e6]), 6));
    for (const [i, stage] of near.stages.entries()) {
      expect(far.stages[i + 1]?.statistic).toBeCloseTo(stage.statistic, 8);
    }
  });

  it('refuses in words', () => {
    expect(refusal(extremeDeviates(sortedOf([1, 2, 3])))).toMatch(/at least 15/);
    expect(refusal(extremeDeviates(sortedOf(new Array(20).fill(4))))).toMatch(/equal/);
    expect(() => extremeDeviates(sortedOf(ROSNER), 0)).toThrow(RangeError);
  });

  it('stops where all that are left are equal', () => {
    const { stages } = given(extremeDeviates(sortedOf([...new Array(19).fill(4), 9]), 4));
    expect(stages.map((stage) => stage.value)).toEqual([9]);
  });

  it('follows shift and scale', () => {
    const readings = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 15, maxLength: 60 });
    fc.assert(
      fc.property(
        readings,
        fc.integer({ min: 1, max: 100 }),
        fc.integer({ min: -1e5, max: 1e5 }),
        (values, times, by) => {
          fc.pre(new Set(values).size > 8);
          const plain = given(extremeDeviates(sortedOf(values), 1));
          const moved = given(extremeDeviates(sortedOf(values.map((value) => value * times + by)), 1));
          expect(moved.stages[0]?.statistic).toBeCloseTo(plain.stages[0]?.statistic as number, 9);
        },
      ),
    );
  });
});
