import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binsOf } from '../../../core/statistics/bins.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { given, refusal } from './given.ts';
import { normals } from './seeded.ts';

describe('bins', () => {
  it('are as wide as Freedman and Diaconis say, to the nearest 1, 2 or 5', () => {
    const normal = normals(21);
    const values = Array.from({ length: 1000 }, () => 4700 + 10 * normal());
    // 2·IQR/∛n of a normal lot with s 10 and n 1000 is 2·13.49/10 = 2.7.
    expect(given(binsOf(sortedOf(values))).width).toBe(2);
  });

  it('hold whole steps of the meter, so that none is combed', () => {
    const normal = normals(22);
    for (const [n, step] of [
      [100000, 1],
      [100000, 0.5],
      [5000, 2],
    ] as const) {
      const values = Array.from({ length: n }, () => Math.round((4700 + 6 * normal()) / step) * step);
      for (const resolution of [step, step / 10, null]) {
        const { width, counts } = given(binsOf(sortedOf(values), resolution));
        expect((width / step) % 1).toBe(0);
        // Up to the fullest, each bin of a normal lot is no emptier than the one before but for chance.
        const top = counts.indexOf(Math.max(...counts));
        for (let i = 1; i < top - 1; i++) {
          const [before, here] = [counts[i - 1] as number, counts[i] as number];
          expect(here).toBeGreaterThan(before - 5 * Math.sqrt(before) - 5);
        }
      }
    }
  });

  it('are Sturges’ where the middle half is equal', () => {
    const values = [...new Array(60).fill(10), 9, 9.5, 10.5, 12];
    // 3 / (1 + log2 64) = 0.43, nearest 0.5.
    expect(given(binsOf(sortedOf(values), 0.1)).width).toBe(0.5);
  });

  it('is one bin where all are equal', () => {
    const { edges, counts } = given(binsOf(sortedOf([5, 5, 5]), 0.01));
    expect(edges).toEqual([4.995, 5.005]);
    expect(counts).toEqual([3]);
    expect(given(binsOf(sortedOf([0, 0]))).counts).toEqual([2]);
    expect(refusal(binsOf(sortedOf([])))).toMatch(/no reading/);
  });

  it('say of a piece too far out that it is not drawn', () => {
    const normal = normals(23);
    const { above, below, notes, counts } = given(binsOf(sortedOf([...Array.from({ length: 100 }, normal), 1e5])));
    expect([below, above]).toEqual([0, 1]);
    expect(counts.length).toBeGreaterThan(4);
    expect(notes.join()).toMatch(/1 piece lies/);
  });

  it('lose no piece, and stay within bounds', () => {
    const readings = fc.array(fc.integer({ min: -5000, max: 5000 }), { minLength: 1, maxLength: 300 });
    const resolution = fc.constantFrom(null, 0.001, 0.01);
    fc.assert(
      fc.property(readings, resolution, (units, step) => {
        const sorted = sortedOf(units.map((unit) => unit / 100));
        const { edges, counts, below, above } = given(binsOf(sorted, step));
        expect(below + above + counts.reduce((sum, count) => sum + count, 0)).toBe(sorted.length);
        expect(edges).toHaveLength(counts.length + 1);
        expect(counts.length).toBeLessThanOrEqual(62);
        for (const [i, count] of counts.entries()) {
          const [from, to] = [edges[i] as number, edges[i + 1] as number];
          expect(count).toBe(sorted.filter((value) => value >= from && value < to).length);
        }
      }),
    );
  });
});
