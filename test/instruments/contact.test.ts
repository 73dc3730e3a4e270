import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lastPlaceIn, meanOver, placeAt, STRAY_FARADS, type Touch } from '../../instruments/bench/contact.ts';

const RANGE = 10_000;
const OPEN = 2 * RANGE;
const touch = (from: number, until = Number.POSITIVE_INFINITY, place: Touch['place'] = 1): Touch => ({
  place,
  from,
  until,
});

describe('what an integrating meter makes of contact that comes and goes', () => {
  it('is the input where it stands while nothing is touched, above what any range reads', () => {
    expect(meanOver({ from: 0, until: 20 }, [], () => 4700, RANGE)).toBe(OPEN);
    expect(meanOver({ from: 0, until: 20 }, [touch(5)], () => null, RANGE)).toBe(OPEN);
  });

  it('is the value long after contact, and the exponential of it before (charging of a capacitor)', () => {
    expect(meanOver({ from: 1000, until: 1020 }, [touch(0)], () => 4700, RANGE)).toBeCloseTo(4700, 9);
    // 10 MΩ with 1 nF: 10 ms. The mean of an exponential from 2e7 to 1e7 over its first time constant.
    const constant = 1e7 * STRAY_FARADS * 1000;
    expect(constant).toBeCloseTo(10, 12);
    const mean = 1e7 + 1e7 * (1 - Math.exp(-1));
    expect(meanOver({ from: 0, until: constant }, [touch(0)], () => 1e7, 1e7) / mean).toBeCloseTo(1, 12);
  });

  it('falls steadily towards the value of a piece that stays, and never below it', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1.2e8, noNaN: true }), fc.integer({ min: 1, max: 400 }), (ohms, start) => {
        const range = 10 ** Math.ceil(Math.log10(ohms));
        const at = (from: number) => meanOver({ from, until: from + 20 }, [touch(0)], () => ohms, range);
        const [first, second] = [at(start), at(start + 20)];
        expect(first).toBeGreaterThanOrEqual(second * (1 - 1e-12));
        expect(second).toBeGreaterThanOrEqual(ohms * (1 - 1e-12));
        expect(first).toBeLessThanOrEqual(2 * range * (1 + 1e-12));
      }),
    );
  });

  it('is the same as that of a fine sum over time, whatever comes and goes (Riemann sum)', () => {
    const gaps = fc.array(fc.double({ min: 0.5, max: 9, noNaN: true }), { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(gaps, fc.double({ min: 10, max: 9e6, noNaN: true }), (lengths, ohms) => {
        const touches: Touch[] = [];
        let at = 0;
        lengths.forEach((length, index) => {
          if (index % 2 === 1) touches.push(touch(at, at + length));
          at += length;
        });
        const constant = ohms * STRAY_FARADS * 1000;
        const range = 1e7;
        const steps = 20_000;
        let sum = 0;
        for (let step = 0; step < steps; step++) {
          const time = ((step + 0.5) / steps) * 20;
          const held = touches.find(({ from, until }) => from <= time && time < until);
          sum += held ? ohms + (2 * range - ohms) * Math.exp((held.from - time) / constant) : 2 * range;
        }
        const exact = meanOver({ from: 0, until: 20 }, touches, () => ohms, range);
        expect(Math.abs(exact - sum / steps)).toBeLessThan(range * 2e-3);
      }),
      { numRuns: 30 },
    );
  });

  it('knows what is touched at a moment, and what was touched last in a window', () => {
    const touches = [touch(0, 5, 3), touch(10, 12, 'SHOR')];
    expect([0, 4.9, 5, 11, 12].map((at) => placeAt(touches, at))).toEqual([3, 3, 'OPEN', 'SHOR', 'OPEN']);
    expect(lastPlaceIn({ from: 0, until: 20 }, touches)).toBe('SHOR');
    expect(lastPlaceIn({ from: 5, until: 10 }, touches)).toBeNull();
  });
});
