import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderedOf } from '../../../core/statistics/inversions.ts';
import { mannKendall } from '../../../core/statistics/mannKendall.ts';
import { theilSen } from '../../../core/statistics/theilSen.ts';
import { given, refusal } from './given.ts';
import { seeded } from './seeded.ts';

// Readings of the e-Handbook's examples 6.3.2.4 and 6.3.2.3, in their order. What is expected was computed with scipy 1.17.1,
// scipy.stats.kendalltau and scipy.stats.theilslopes, as general-purpose references.
const EWMA_EXAMPLE = [
  52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
  52.1,
];
const CUSUM_EXAMPLE = [
  324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325,
  327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
];

const trendOf = (readings: readonly number[]) => given(mannKendall(readings));

describe('Mann-Kendall', () => {
  it('has the tau-b of scipy, ties included', () => {
    expect(trendOf(EWMA_EXAMPLE).tau).toBeCloseTo(0.29178642683553485, 14);
    expect(trendOf(CUSUM_EXAMPLE).tau).toBeCloseTo(0.49076687981751027, 14);
  });

  it('has the exact probability of scipy where no readings are tied', () => {
    const untied = [52.0, 47.0, 53.0, 49.3, 50.1, 51.0, 51.2, 50.5, 49.6, 47.6, 49.9];
    const trend = trendOf(untied);
    expect(trend.exact).toBe(true);
    expect(trend.p).toBeCloseTo(0.4453821448613115, 12);
  });

  it('of four readings that rise finds it by chance once in twelve (Kendall’s table: 0.042 one-sided, from memory)', () => {
    expect(trendOf([1, 2, 3, 4]).p).toBeCloseTo(2 / 24, 14);
  });

  it('counts the pairs that stand the wrong way round', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -20, max: 20 }), { maxLength: 120 }), (readings) => {
        let inversions = 0;
        for (const [i, a] of readings.entries()) for (const b of readings.slice(i + 1)) if (a > b) inversions++;
        const ordered = orderedOf(readings);
        expect(ordered.inversions).toBe(inversions);
        expect([...ordered.sorted]).toEqual(readings.toSorted((a, b) => a - b));
      }),
    );
  });

  it('turns its sign with the order and keeps its strength', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 50 }), { minLength: 5, maxLength: 60 }), (readings) => {
        fc.pre(new Set(readings).size > 1);
        const [there, back] = [trendOf(readings), trendOf(readings.toReversed())];
        expect(back.s).toBe(-there.s + 0);
        expect(back.p).toBeCloseTo(there.p, 12);
      }),
    );
  });

  it('finds a trend in readings without one in about one case of twenty', () => {
    const random = seeded(4);
    let found = 0;
    for (let lot = 0; lot < 2000; lot++) if (trendOf(Array.from({ length: 40 }, random)).p < 0.05) found++;
    expect(found).toBeGreaterThan(60);
    expect(found).toBeLessThan(140);
  });

  it('says why it gives nothing', () => {
    expect(refusal(mannKendall([1, 2, 3]))).toMatch(/at least 4/);
    expect(refusal(mannKendall([5, 5, 5, 5, 5]))).toMatch(/equal/);
  });
});

const lineOf = (readings: readonly number[]) => given(theilSen(readings, trendOf(readings)));

describe('Theil-Sen', () => {
  it.each([
    { readings: EWMA_EXAMPLE, slope: 0.13541666666666713, lower: -0.02857142857142847, upper: 0.28666666666666696 },
    { readings: CUSUM_EXAMPLE, slope: 0.19014423076922796, lower: 0.08333333333333333, upper: 0.28333333333333144 },
  ])('has the slope $slope of scipy, and its interval but for the rounding of ranks', ({ readings, ...expected }) => {
    const line = lineOf(readings);
    expect(line.slope).toBeCloseTo(expected.slope, 12);
    const width = expected.upper - expected.lower;
    expect(Math.abs(line.lower - expected.lower)).toBeLessThan(0.05 * width);
    expect(Math.abs(line.upper - expected.upper)).toBeLessThan(0.05 * width);
    expect(line.everyPair).toBe(true);
  });

  it('goes through the median of scipy’s intercept', () => {
    const { at, slope } = lineOf(EWMA_EXAMPLE);
    // scipy: intercept = median(y) - slope * median(x) = 49.32812499999999
    expect(at.value - slope * at.position).toBeCloseTo(49.328125, 10);
  });

  it('stands for all pairs within the error it states, above the size at which all are taken', () => {
    const random = seeded(11);
    const readings = Array.from({ length: 2200 }, (_, i) => 100 + 0.0004 * i + random());
    const slopes: number[] = [];
    for (let i = 0; i < readings.length; i++) {
      for (let j = i + 1; j < readings.length; j++)
        slopes.push(((readings[j] as number) - (readings[i] as number)) / (j - i));
    }
    const all = Float64Array.from(slopes).sort();
    const exact = ((all[all.length / 2 - 1] as number) + (all[all.length / 2] as number)) / 2;
    const line = lineOf(readings);
    expect(line.everyPair).toBe(false);
    expect(Math.abs(line.slope - exact)).toBeLessThan(line.slopeError);
    expect(line.slopeError).toBeLessThan((line.upper - line.lower) / 2);
    expect(line.lower).toBeLessThan(0.0004);
    expect(line.upper).toBeGreaterThan(0.0004);
  });

  it('is not led by a few odd readings', () => {
    const readings = Array.from({ length: 60 }, (_, i) => 50 + 0.1 * i + ((i * 7) % 5) * 0.01);
    readings[58] = 900;
    readings[59] = 900;
    expect(lineOf(readings).slope).toBeCloseTo(0.1, 2);
  });

  it('leaves out pairs of one position', () => {
    const line = given(theilSen([1, 5, 2, 3], { varianceOfS: 1 }, [1, 1, 2, 3]));
    expect(line.pairs).toBe(5);
    expect(refusal(theilSen([1, 2, 3], { varianceOfS: 1 }, [4, 4, 4]))).toMatch(/one position/);
  });
});
