import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { centred, fitted, isWhole, moved, type View, zoomed } from '../../../core/chart/view.ts';

const ends = fc.tuple(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: 0, max: 1e6, noNaN: true }));
const view = ends.map(([from, width]): View => ({ from, to: from + width }));
const whole = ends.map(([from, width]): View => ({ from, to: from + width + 1 }));
const factor = fc.double({ min: 0.01, max: 100, noNaN: true });

const ROUNDING = 1e-6;

it('never leaves the whole and never shows less than can be looked at', () => {
  fc.assert(
    fc.property(view, whole, factor, fc.double({ min: -3, max: 3, noNaN: true }), (looked, all, by, share) => {
      for (const next of [
        fitted(looked, all),
        zoomed(fitted(looked, all), by, all),
        moved(fitted(looked, all), share, all),
        centred(fitted(looked, all), share * 1e6, all),
      ]) {
        expect(next.from).toBeGreaterThanOrEqual(all.from - ROUNDING);
        expect(next.to).toBeLessThanOrEqual(all.to + ROUNDING);
        expect(next.to - next.from).toBeGreaterThanOrEqual(Math.min(10, all.to - all.from) - ROUNDING);
      }
    }),
  );
});

it('goes nearer and back again, along and back again, away from the ends', () => {
  const all = { from: 1, to: 100_000 };
  const looked = { from: 40_000, to: 42_000 };
  expect(zoomed(zoomed(looked, 0.5, all), 2, all)).toEqual(looked);
  expect(zoomed(looked, 0.5, all)).toEqual({ from: 40_500, to: 41_500 });
  expect(moved(moved(looked, 0.5, all), -0.5, all)).toEqual(looked);
  expect(moved(looked, -1000, all)).toEqual({ from: 1, to: 2001 });
  expect(moved(looked, 1000, all)).toEqual({ from: 98_000, to: 100_000 });
  expect(isWhole(zoomed(looked, 1e9, all), all)).toBe(true);
  expect(isWhole(looked, all)).toBe(false);
});
