import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { histogramBins } from '../../renderer/charts/histogramBins.ts';
import { windowScale } from '../../renderer/windowBar/windowScale.ts';

const scale = windowScale({ nominal: '4700', lower: '4653', upper: '4747' });

describe('bins of the histogram', () => {
  it('divides the window in ten and goes on beyond it in the same width', () => {
    const bins = histogramBins(scale, []);
    expect(bins).toHaveLength(20);
    expect(bins[0]).toMatchObject({ from: null, count: 0 });
    expect(bins[5]?.from).toBeCloseTo(4653, 9);
    expect(bins[14]?.to).toBeCloseTo(4747, 9);
    expect(bins[19]?.to).toBeNull();
  });

  it('counts a value on a limit inside, as its verdict does', () => {
    const bins = histogramBins(scale, [4653, 4747]);
    expect(bins[5]?.count).toBe(1);
    expect(bins[14]?.count).toBe(1);
  });

  it('counts an overload and what is off the scale at the ends', () => {
    const bins = histogramBins(scale, [Number.POSITIVE_INFINITY, 1e9, -5, 0]);
    expect(bins[0]?.count).toBe(2);
    expect(bins[19]?.count).toBe(2);
  });

  it('never mixes good and bad pieces, and loses none', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 4500, max: 4900, noNaN: true })), (values) => {
        const bins = histogramBins(scale, values);
        const inside = bins.slice(5, 15).reduce((sum, bin) => sum + bin.count, 0);
        expect(inside).toBe(values.filter((value) => value >= 4653 && value <= 4747).length);
        expect(bins.reduce((sum, bin) => sum + bin.count, 0)).toBe(values.length);
      }),
    );
  });

  it('puts every bin of a one-sided window on the right side of its limit', () => {
    const bins = histogramBins(windowScale({ nominal: null, lower: null, upper: '0.1' }), [0.1, 0.100001, 0]);
    const good = bins.filter((bin) => bin.to !== null && bin.to <= 0.1 + 1e-9);
    expect(good.reduce((sum, bin) => sum + bin.count, 0)).toBe(2);
  });
});
