import { describe, expect, it } from 'vitest';
import { andersonDarling } from '../../../core/statistics/andersonDarling.ts';
import { summaryOf } from '../../../core/statistics/summary.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { given, refusal } from './given.ts';
import { normals, seeded } from './seeded.ts';
import { strdReadings } from './strd.ts';

function test(values: number[] | Float64Array) {
  return andersonDarling(sortedOf(values), given(summaryOf(values)));
}

describe('Anderson and Darling', () => {
  // Computed only: A² of StRD data, with scipy 1.17.
  it.each([
    ['Michelso', 0.460764],
    ['Mavro', 1.668465],
    ['Lew', 6.000647],
    ['Lottery', 2.573726],
  ])('%s', (dataset, aSquared) => {
    const values = strdReadings(dataset);
    if (values === null) return; // said aloud by strdReadings
    expect(given(test(values)).aSquared).toBeCloseTo(aSquared, 6);
  });

  it('is significant at 5 % from 0.752, at 1 % from 1.035', () => {
    // D'Agostino and Stephens 1986, table 4.7, from memory; their formulas for p agree within about 2 % of p.
    const normal = normals(3);
    const at: [adjusted: number, p: number][] = Array.from({ length: 3000 }, () => {
      const { adjusted, pValue } = given(test(Array.from({ length: 20 }, normal)));
      return [adjusted, pValue];
    });
    for (const [adjusted, p] of at) {
      expect(p).toBeGreaterThan(0);
      expect(p).toBeLessThanOrEqual(1);
      if (adjusted > 0.76) expect(p).toBeLessThan(0.05);
      if (adjusted < 0.74) expect(p).toBeGreaterThan(0.05);
      if (adjusted > 1.05) expect(p).toBeLessThan(0.01);
      if (adjusted < 1.02) expect(p).toBeGreaterThan(0.01);
    }
    // And normal samples show p below 5 % in 5 % of cases: 150 of 3000, standard error 12.
    const significant = at.filter(([, p]) => p < 0.05).length;
    expect(significant).toBeGreaterThan(102);
    expect(significant).toBeLessThan(198);
  });

  it('stays a number where a piece is a thousand standard deviations out', () => {
    const normal = normals(5);
    const values = [...Array.from({ length: 5000 }, normal), 1e6];
    const { aSquared, pValue, notes } = given(test(values));
    expect(Number.isFinite(aSquared)).toBe(true);
    expect(pValue).toBeLessThan(1e-20);
    expect(notes.join()).toMatch(/at most/);
  });

  it('does not mind shift and scale', () => {
    const uniform = seeded(9);
    const values = Array.from({ length: 200 }, uniform);
    const moved = values.map((value) => 4700 + 11 * value);
    expect(given(test(moved)).aSquared).toBeCloseTo(given(test(values)).aSquared, 8);
  });

  it('refuses in words', () => {
    expect(refusal(test([1, 2, 3]))).toMatch(/fewer than 8/);
    expect(refusal(test(new Array(9).fill(3)))).toMatch(/equal/);
  });
});
