import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  c4,
  individualsChart,
  individualsLimits,
  meanSpreadChart,
  pooledSpread,
  rangeConstants,
  type Subgroup,
  spreadConstants,
} from '../../../core/statistics/shewhart.ts';
import { summaryOf } from '../../../core/statistics/summary.ts';
import { sharedTable } from '../sampling/sharedTable.ts';
import { given, refusal } from './given.ts';

const ranges = (n: number) => given(rangeConstants(n));

describe('constants of Shewhart charts', () => {
  // Shared check values, 4.1: ASTM MNL 7 and e-Handbook 6.3.2.1, from memory, recomputed.
  it('agree with the printed ones', () => {
    const { c4: share, A3, B3, B4 } = spreadConstants(5);
    const { d2, d3, A2, D3, D4, E2 } = ranges(5);
    expect(share).toBeCloseTo(0.94, 4);
    expect([A3, B3, B4].map((value) => value.toFixed(3))).toEqual(['1.427', '0.000', '2.089']);
    expect([d2, d3, A2, D3, E2].map((value) => value.toFixed(3))).toEqual([
      '2.326',
      '0.864',
      '0.577',
      '0.000',
      '1.290',
    ]);
    expect(D4.toFixed(4)).toBe('2.1145');
    const two = ranges(2);
    expect([two.d2, two.A2, two.D4, two.E2].map((value) => value.toFixed(3))).toEqual([
      '1.128',
      '1.880',
      '3.267',
      '2.659',
    ]);
    const ten = ranges(10);
    expect([ten.d2, ten.A2, ten.D3, ten.D4].map((value) => value.toFixed(3))).toEqual([
      '3.078',
      '0.308',
      '0.223',
      '1.777',
    ]);
  });

  it('agree with the computed table to all its 6 decimals', () => {
    const table = sharedTable('shewhart-constants-computed.csv');
    if (table === null) return;
    expect(table).toHaveLength(9);
    for (const row of table) {
      const n = Number(row.n);
      for (const [name, value] of Object.entries({ ...ranges(n), ...spreadConstants(n) })) {
        expect(Math.abs(value - Number(row[name])), `${name} of ${n}`).toBeLessThan(5.1e-7);
      }
    }
  });

  it('are exact where gammas are: c4 of 2, 3 and 4', () => {
    expect(c4(2)).toBeCloseTo(Math.sqrt(2 / Math.PI), 14);
    expect(c4(3)).toBeCloseTo(Math.sqrt(Math.PI) / 2, 14);
    expect(c4(4)).toBeCloseTo(2 * Math.sqrt(2 / (3 * Math.PI)), 14);
    expect(ranges(2).d2).toBeCloseTo(2 / Math.sqrt(Math.PI), 9);
    expect(ranges(2).d3).toBeCloseTo(Math.sqrt(2 - 4 / Math.PI), 9);
    expect(ranges(3).d2).toBeCloseTo(3 / Math.sqrt(Math.PI), 9);
  });

  // Γ(x+1) = x·Γ(x) makes c4(n)·c4(n+1) = √((n-1)/n), through the change from gammas to the series.
  it('go on without a step for any n', () => {
    for (const n of [2, 3, 10, 100, 298, 299, 300, 301, 302, 10_000, 1_000_000]) {
      expect(Math.abs(c4(n) * c4(n + 1) - Math.sqrt((n - 1) / n)), `n ${n}`).toBeLessThan(1e-13);
      const { B3, B4 } = spreadConstants(n);
      expect(B3).toBeGreaterThanOrEqual(0);
      expect(B4).toBeGreaterThan(1);
    }
  });

  it('are refused by ranges outside 2 to 10', () => {
    for (const n of [0, 1, 11, 2.5]) expect(refusal(rangeConstants(n))).toContain('2 to 10');
  });

  // CCXBAR.DAT (NIST, Dataplot library; shared check values 4.1): 4 days of 5, grand mean 23.34, mean range 1.875.
  it('give the published limits of CCXBAR', () => {
    const { A2, D4 } = ranges(5);
    expect(summaryOf([23.58, 23.08, 23.38, 23.32])).toMatchObject({ mean: 23.34 });
    expect((23.34 - A2 * 1.875).toFixed(4)).toBe('22.2585');
    expect((23.34 + A2 * 1.875).toFixed(4)).toBe('24.4215');
    expect((D4 * 1.875).toFixed(4)).toBe('3.9647');
  });
});

describe('a chart of means and standard deviations', () => {
  const equal: Subgroup[] = [
    { n: 5, mean: 10, standardDeviation: 1 },
    { n: 5, mean: 10.4, standardDeviation: 1 },
    { n: 5, mean: 13, standardDeviation: 1 },
    { n: 5, mean: 9, standardDeviation: 1 },
  ];

  it('has limits of 3σ/√n about the mean of all readings, and c4·σ times B3 and B4', () => {
    const { means, spreads } = given(meanSpreadChart(equal));
    const sigma = 1 / c4(17);
    expect(given(pooledSpread(equal))).toEqual({ sigma, degreesOfFreedom: 16 });
    for (const { centre, lower, upper } of means) {
      expect(centre).toBeCloseTo(10.6, 12);
      expect(upper - centre).toBeCloseTo((3 * sigma) / Math.sqrt(5), 12);
      expect(centre - lower).toBeCloseTo(spreadConstants(5).A3 * c4(5) * sigma, 12);
    }
    expect(means.map(({ out }) => out)).toEqual([false, false, true, true]);
    expect(spreads[0]?.centre).toBeCloseTo(c4(5) * sigma, 12);
    expect(spreads[0]?.upper).toBeCloseTo(spreadConstants(5).B4 * c4(5) * sigma, 12);
    expect(spreads[0]?.lower).toBe(0);
  });

  it('gives each subgroup the limits of its own n, and no spread to a single reading', () => {
    const { means, spreads } = given(
      meanSpreadChart([
        { n: 50, mean: 100, standardDeviation: 1 },
        { n: 5, mean: 100, standardDeviation: 3 },
        { n: 1, mean: 101, standardDeviation: null },
      ]),
    );
    expect(means[0]?.centre).toBeCloseTo(100 + 1 / 56, 12);
    const halves = means.map(({ centre, upper }) => upper - centre);
    expect((halves[1] as number) / (halves[0] as number)).toBeCloseTo(Math.sqrt(10), 9);
    expect((halves[2] as number) / (halves[0] as number)).toBeCloseTo(Math.sqrt(50), 9);
    expect(spreads[0]?.lower).toBeGreaterThan(0);
    expect(spreads[1]?.out).toBe(true);
    expect(spreads[2]).toBeNull();
  });

  it('is refused where nothing is known of the spread within', () => {
    expect(refusal(meanSpreadChart([]))).toContain('no spread within');
    expect(refusal(meanSpreadChart([{ n: 1, mean: 3, standardDeviation: null }]))).toContain('more than one reading');
    expect(refusal(meanSpreadChart([{ n: 4, mean: 3, standardDeviation: 0 }]))).toContain('equal');
    expect(() => pooledSpread([{ n: 4, mean: 3, standardDeviation: Number.NaN }])).toThrow('figure-not-finite');
  });
});

describe('a chart of single values', () => {
  // Batch flow rates, e-Handbook 6.3.2.2 (from memory): mean 50.81, mean step 1.8778, limits 55.8041 and 45.8159.
  it('has the limits of the e-Handbook', () => {
    const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    const { limits, values, movingRanges } = given(individualsChart(flow));
    expect(limits.centre).toBeCloseTo(50.81, 12);
    expect(limits.movingRange).toBeCloseTo(1.8778, 4);
    // The handbook divides by 1.128 where 2/√π is 1.128379: up to 0.002 of difference.
    expect(Math.abs(limits.upper - 55.8041)).toBeLessThan(2e-3);
    expect(Math.abs(limits.lower - 45.8159)).toBeLessThan(2e-3);
    expect(values.some(({ out }) => out)).toBe(false);
    expect(movingRanges.map(({ value }) => Number(value.toFixed(1)))).toEqual([
      2, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5,
    ]);
    expect(movingRanges[0]?.upper).toBeCloseTo(ranges(2).D4 * limits.movingRange, 8);
  });

  it('marks the value and the steps that are out, and takes a value on the limit for in', () => {
    const { values, movingRanges, limits } = given(individualsChart([10, 11, 10, 11, 10, 11, 10, 11, 10, 30, 10]));
    expect(values.findIndex(({ out }) => out)).toBe(9);
    expect(movingRanges.map(({ out }) => out)).toEqual([...Array(8).fill(false), true, true]);
    expect(limits.upper - limits.centre).toBeCloseTo(ranges(2).E2 * limits.movingRange, 8);
  });

  it('is refused for one value and for equal values', () => {
    expect(refusal(individualsLimits([]))).toContain('no reading');
    expect(refusal(individualsLimits([5]))).toContain('at least 2');
    expect(refusal(individualsLimits([0.1, 0.1, 0.1]))).toContain('equal');
    expect(refusal(individualsLimits([0, 0]))).toContain('equal');
    expect(() => individualsLimits([1, Number.NaN])).toThrow('figure-not-finite');
  });

  it('never gives what is no number', () => {
    const finite = fc.double({ min: -1e15, max: 1e15, noNaN: true });
    fc.assert(
      fc.property(fc.array(finite, { maxLength: 30 }), (values) => {
        const limits = individualsLimits(values);
        if ('refused' in limits) return;
        for (const value of Object.values(limits)) expect(Number.isFinite(value)).toBe(true);
        expect(limits.lower).toBeLessThan(limits.upper);
      }),
    );
  });
});
