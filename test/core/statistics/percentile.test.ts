import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { medianOf, percentile, quartilesOf } from '../../../core/statistics/percentile.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { given, refusal } from './given.ts';
import { strdReadings } from './strd.ts';

describe('percentiles of type 7', () => {
  // Computed only, no published figure: medians and interquartile ranges of StRD data by type 7.
  it.each([
    ['Mavro', 2.0018, 0.0006],
    ['Michelso', 299.85, 0.085],
    ['Lew', -162, 544],
    ['Lottery', 522.5, 506.5],
  ])('%s', (dataset, median, interquartileRange) => {
    const values = strdReadings(dataset);
    if (values === null) return; // said aloud by strdReadings
    const quartiles = given(quartilesOf(sortedOf(values)));
    expect(quartiles.median).toBeCloseTo(median, 10);
    expect(quartiles.interquartileRange).toBeCloseTo(interquartileRange, 10);
  });

  it('goes in a straight line between readings', () => {
    // Definition 7 by hand: position (n - 1)·p = 0.75 of the way from 1 to 2.
    const sorted = sortedOf([4, 1, 3, 2]);
    expect(percentile(sorted, 0.25)).toBe(1.75);
    expect(medianOf(sorted)).toBe(2.5);
    expect(refusal(quartilesOf(sortedOf([])))).toMatch(/no reading/);
    expect(() => percentile(sortedOf([]), 0.5)).toThrow(RangeError);
    expect(() => percentile(sorted, 1.1)).toThrow(RangeError);
  });

  it('rises from the lowest to the highest', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const values = fc.array(
      fc.integer({ min: -1e9, max: 1e9 }).map((units) => units / 1000),
      { minLength: 1, maxLength: 40 },
    );
    fc.assert(
      fc.property(values, share, share, (readings, a, b) => {
        const sorted = sortedOf(readings);
        expect(percentile(sorted, Math.min(a, b))).toBeLessThanOrEqual(percentile(sorted, Math.max(a, b)));
        expect(percentile(sorted, 0)).toBe(sorted[0]);
        expect(percentile(sorted, 1)).toBe(sorted[sorted.length - 1]);
      }),
    );
  });
});
