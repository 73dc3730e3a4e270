import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thin } from '../../renderer/charts/thin.ts';

const points = fc.array(fc.record({ value: fc.double({ noNaN: true }), kept: fc.boolean() }), { maxLength: 400 });

describe('thinning a line', () => {
  it('leaves a short line alone', () => {
    const few = [{ value: 1, kept: false }];
    expect(thin(few, 500)).toBe(few);
  });

  it('never drops what is to be kept, the ends or the extremes, and keeps the order', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: 2, max: 60 }), (all, most) => {
        const left = thin(all, most);
        const places = left.map((point) => all.indexOf(point));
        expect(places).toEqual(places.toSorted((a, b) => a - b));
        for (const point of all) if (point.kept) expect(left).toContain(point);
        if (all.length === 0) return;
        expect(left[0]).toBe(all[0]);
        expect(left.at(-1)).toBe(all.at(-1));
        const values = (of: readonly { value: number }[]) => of.map((point) => point.value);
        expect(Math.min(...values(left))).toBe(Math.min(...values(all)));
        expect(Math.max(...values(left))).toBe(Math.max(...values(all)));
      }),
    );
  });

  it('leaves about as many as asked for', () => {
    const many = Array.from({ length: 10_000 }, (_, index) => ({ value: Math.sin(index), kept: false }));
    expect(thin(many, 500).length).toBeLessThanOrEqual(502);
    expect(thin(many, 500).length).toBeGreaterThan(400);
  });
});
