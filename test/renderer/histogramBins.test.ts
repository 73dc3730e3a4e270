import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Bin, histogramBins } from '../../renderer/charts/histogramBins.ts';
import { windowScale } from '../../renderer/windowBar/windowScale.ts';

const scale = windowScale({ nominal: '4700', lower: '4653', upper: '4747' });

const sum = (bins: readonly Bin[]) => bins.reduce((all, bin) => all + bin.count, 0);

describe('bins of the histogram', () => {
  it('divides the window in ten and goes on beyond it in the same width', () => {
    const { bins } = histogramBins(scale, []);
    expect(bins).toHaveLength(20);
    expect(bins[0]).toMatchObject({ from: null, count: 0 });
    expect(bins[5]?.from).toBeCloseTo(4653, 9);
    expect(bins[14]?.to).toBeCloseTo(4747, 9);
    expect(bins[19]?.to).toBeNull();
  });

  it('counts a value on a limit inside, as its verdict does', () => {
    const { bins } = histogramBins(scale, [4653, 4747]);
    expect(bins[5]?.count).toBe(1);
    expect(bins[14]?.count).toBe(1);
  });

  it('counts an overload and what is off the scale at the ends', () => {
    const { bins } = histogramBins(scale, [Number.POSITIVE_INFINITY, 1e9, -5, 0]);
    expect(bins[0]?.count).toBe(2);
    expect(bins[19]?.count).toBe(2);
  });

  it('never mixes good and bad pieces, and loses none', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 4500, max: 4900, noNaN: true })), (values) => {
        const { bins, band } = histogramBins(scale, values);
        expect(sum(bins.slice(band.first, band.end))).toBe(
          values.filter((value) => value >= 4653 && value <= 4747).length,
        );
        expect(sum(bins)).toBe(values.length);
      }),
    );
  });

  it('puts every bin of a one-sided window on the right side of its limit', () => {
    const atMost = histogramBins(windowScale({ nominal: null, lower: null, upper: '0.1' }), [0.1, 0.100001, 0]);
    expect(sum(atMost.bins.slice(0, atMost.band.end))).toBe(2);
    expect(sum(atMost.bins.slice(atMost.band.end))).toBe(1);
    // Half a window below is no whole number of bins here.
    const atLeast = histogramBins(windowScale({ nominal: null, lower: '1000000', upper: null }), [999_999, 1e6, 9e9]);
    expect(sum(atLeast.bins.slice(0, atLeast.band.first))).toBe(1);
    expect(sum(atLeast.bins.slice(atLeast.band.first))).toBe(2);
    expect(atLeast.bins[atLeast.band.first]?.from).toBe(1e6);
  });
});
