import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analysisOfRun } from '../../core/inspection/analysisOfRun.ts';
import { binsOf } from '../../core/statistics/bins.ts';
import { isRefused, type Limits, sortedOf } from '../../core/statistics/values.ts';
import { wordsApart } from '../../renderer/charts/wordsApart.ts';
import { cusumAlong, ewmaAlong, singlesAlong, trendAt } from '../../renderer/figures/alongPoints.ts';
import { drawnBins } from '../../renderer/figures/drawnBins.ts';
import { lotFigures, piecesWith } from '../../renderer/figures/lotFigures.ts';
import { pText, valueText } from '../../renderer/words/figures.ts';
import { atLeastText } from '../../renderer/words/probability.ts';
import { OVERLOAD, readyRun, walk, withReadings } from '../core/inspection/walk.ts';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const inOrder = (values: readonly number[]) => ({ values, places: values.map((_, index) => index + 1) });

describe('the readings behind the figures of a lot', () => {
  const run = withReadings(readyRun({ plan: { sampleSize: 9, accept: 8 } }), '4702.13', '4710.00', OVERLOAD, '4690.40');

  it('are those that count and have a value; overloads are named apart', () => {
    const { values, pieces, overloads } = lotFigures(run);
    expect({ values, pieces, overloads }).toEqual({
      values: [4702.13, 4710, 4690.4],
      pieces: [1, 2, 4],
      overloads: [3],
    });
  });

  it('stand in the order of their pieces, also where one was measured again', () => {
    const voided = walk(run, { type: 'void-reading', reading: 2, by: 'B', reason: 'slipped' });
    const { values, pieces } = lotFigures(withReadings(voided, '4705.55'));
    expect(pieces).toEqual([1, 2, 4]);
    expect(values).toEqual([4702.13, 4705.55, 4690.4]);
  });

  it('give the figures of the certificate, where an open piece keeps its place too', () => {
    const raws = Array.from({ length: 12 }, (_, index) => (index === 4 ? OVERLOAD : (4690 + index * 3).toFixed(2)));
    const open = withReadings(readyRun({ plan: { sampleSize: 20, accept: 19 } }), ...raws);
    const { analysis, values, places } = lotFigures(open);
    expect(analysis).toEqual(analysisOfRun(open).analysis);
    const { slope } = analysis.trend;
    if (isRefused(slope)) throw new Error(slope.refused);
    // The readings lie on a line: that of the trend.
    for (const [index, value] of values.entries())
      expect(trendAt(slope, places[index] as number)).toBeCloseTo(value, 6);
  });

  it('are found again by their values', () => {
    const all = { values: [5, 7, 5, 6], pieces: [1, 2, 4, 9] };
    expect(piecesWith(all, [5])).toEqual([1, 4]);
    expect(piecesWith(all, [6, 7, 7])).toEqual([2, 9]);
  });

  it('give figures or reasons and nothing else, be there none, one, or all equal', () => {
    const none = lotFigures(readyRun()).analysis;
    expect(isRefused(none.summary)).toBe(true);
    for (const raws of [['4702.13'], ['4702.13', '4702.13', '4702.13']]) {
      const { capability, toleranceInterval } = lotFigures(withReadings(readyRun(), ...raws)).analysis;
      expect(isRefused(capability) && isRefused(toleranceInterval)).toBe(true);
    }
  });
});

describe('points along the reel', () => {
  it('make the moving average of the e-Handbook, 6.3.2.4 (from memory, recomputed)', () => {
    const data = [
      ...[52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5],
      ...[49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1],
    ];
    const published = [
      ...[50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33],
      ...[50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99],
    ];
    const { lines, bounds, out } = ewmaAlong(inOrder(data), { centre: 50, spread: 2.0539 });
    expect(data.map((_, index) => Number(lines[0]?.y(index).toFixed(2)))).toEqual(published);
    // The limits for ever after are 52.5884 and 47.4115; at the twentieth they are as good as there.
    expect(bounds[1]?.y(19)).toBeCloseTo(52.5884, 2);
    expect(bounds[0]?.y(19)).toBeCloseTo(47.4115, 2);
    expect(out).toEqual(data.map(() => false));
  });

  it('make the two sums of the e-Handbook, 6.3.2.3, the one below drawn downwards (from memory, recomputed)', () => {
    const data = [
      ...[324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6],
      ...[324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35],
    ];
    // k is 0.3175 there: half of a spread of 0.635.
    const { lines, out } = cusumAlong(inOrder(data), { centre: 325, spread: 0.635 });
    const above = [3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16, 19.04];
    for (const [index, sum] of above.entries()) expect(lines[0]?.y(12 + index)).toBeCloseTo(sum, 1);
    const below = new Map([
      [2, 0.01],
      [4, 0.33],
      [7, 0.56],
      [8, 0.72],
      [9, 0.17],
      [10, 0.25],
      [11, 0.31],
    ]);
    for (const [piece, sum] of below) expect(lines[1]?.y(piece - 1)).toBeCloseTo(-sum, 2);
    expect(data.every((_, index) => (lines[1]?.y(index) as number) <= 0)).toBe(true);
    // One signal, from where the sum above goes beyond 5 s: it is ringed where it begins.
    const begins = out.indexOf(true);
    expect(lines[0]?.stretch(1, 20, 100, 100).kept).toEqual([begins]);
    expect(lines[1]?.stretch(1, 20, 100, 100).kept).toEqual([]);
  });

  it('are thinned without losing what goes furthest', () => {
    const values = Array.from({ length: 100_000 }, (_, index) => 100 + Math.sin(index) + (index === 77_777 ? 50 : 0));
    const { lines, out } = singlesAlong(inOrder(values), { centre: 100, spread: 1 });
    const left = lines[0]?.stretch(1, 100_000, 500, 100);
    expect(left?.line.length).toBeLessThanOrEqual(501);
    expect(left?.kept).toEqual([77_777]);
    expect(out[77_777]).toBe(true);
  });
});

describe('the bins that are drawn', () => {
  const limits = (lower: number | null, upper: number | null): Limits => ({ nominal: null, lower, upper });
  const bins = (values: readonly number[]) => {
    const found = binsOf(sortedOf(values));
    if (isRefused(found)) throw new Error(found.refused);
    return found;
  };
  const values = Array.from({ length: 101 }, (_, index) => 90 + index / 5);

  it('are widened to limits that are near, and hold as many readings as before', () => {
    const of = bins(values);
    const drawn = drawnBins(of, limits(85, 115));
    expect(drawn.from).toBeLessThan(85);
    expect(drawn.to).toBeGreaterThan(115);
    expect(drawn.counts.reduce((sum, count) => sum + count, 0)).toBe(101);
    expect([drawn.showsLower, drawn.showsUpper]).toEqual([true, true]);
    expect((drawn.to - drawn.from) / drawn.width).toBeCloseTo(drawn.counts.length, 6);
  });

  it('leave a limit that is far to words, each by itself', () => {
    const drawn = drawnBins(bins(values), limits(85, 5000));
    expect([drawn.showsLower, drawn.showsUpper]).toEqual([true, false]);
    expect(drawn.counts.length).toBeLessThan(200);
  });

  it('stay as they are where the limits lie among them', () => {
    const of = bins(values);
    expect(drawnBins(of, limits(95, 105)).counts).toEqual(of.counts);
    expect(drawnBins(of, limits(null, null)).showsUpper).toBe(true);
  });
});

describe('words at the end of levels', () => {
  it('never touch, and keep the order of their levels', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 4 }), (places) => {
        const down = wordsApart(places);
        const heights = places.map((place, index) => place * 190 - (down[index] as number));
        const order = places.map((_, index) => index).sort((a, b) => (places[a] as number) - (places[b] as number));
        const placed = order.map((index) => heights[index] as number);
        for (let i = 1; i < placed.length; i++) {
          expect((placed[i] as number) - (placed[i - 1] as number)).toBeGreaterThan(14);
        }
      }),
    );
  });

  it('stay where they are when there is room', () => {
    expect(wordsApart([0.1, 0.5, 0.9])).toEqual([0, 0, 0]);
  });
});

describe('figures as text', () => {
  const window = { nominal: '4700', lower: '4653', upper: '4747' };
  it('end at the third digit of the spread, in the unit of the window', () => {
    expect(plain(valueText(4701.82345, window, 8.05))).toBe('4.70182 kΩ');
    expect(plain(valueText(4701.82345, window, 71.8))).toBe('4.7018 kΩ');
    expect(plain(valueText(4701.82345, window, 0))).toBe('4.701823 kΩ');
    expect(plain(valueText(0, window, null))).toBe('0 kΩ');
  });

  it('never say more than there is at least', () => {
    expect([0.94841, 0.9999, 0.5, 0].map(atLeastText).map(plain)).toEqual(['94.8 %', '99.9 %', '50 %', '0 %']);
  });

  it('say small p-values in words', () => {
    expect([0.0000001, 0.00456, 0.049, 0.5, 1].map(pText)).toEqual([
      'less than 0.001',
      '0.005',
      '0.049',
      '0.50',
      '1.00',
    ]);
  });
});
