import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Drawing, hypergeometricAtMost, hypergeometricChance } from '../../../core/sampling/hypergeometric.ts';
import { exactAtMost } from './exactFractions.ts';

/** Apart as a share; below this nothing is held as a normal double. */
const SMALLEST_NORMAL = 2 ** -1022;

function expectExact(most: number, drawing: Drawing): void {
  const exact = exactAtMost(most, drawing);
  const found = hypergeometricAtMost(most, drawing);
  const apart = Math.abs(found - exact) / Math.max(exact, SMALLEST_NORMAL);
  expect(apart, `${most} of ${JSON.stringify(drawing)}: ${found}, exact ${exact}`).toBeLessThan(1e-12);
}

const anyDrawing = (largest: number): fc.Arbitrary<Drawing> =>
  fc.integer({ min: 1, max: largest }).chain((lotSize) =>
    fc.record({
      lotSize: fc.constant(lotSize),
      nonconforming: fc.integer({ min: 0, max: lotSize }),
      sampleSize: fc.integer({ min: 0, max: lotSize }),
    }),
  );

describe('hypergeometric chance of at most so many', () => {
  // What a sample of letter Q from a lot of half a million asks for.
  it.each([0, 1, 2, 3, 7, 21, 60, 200])('at most %i of 1250 from 500 000 is exact to 1e-12', (most) => {
    for (const nonconforming of [1, 2, 25, 400, 500, 1000, 3333, 5000, 20_000, 100_000, 250_000, 499_000]) {
      expectExact(most, { lotSize: 500_000, nonconforming, sampleSize: 1250 });
    }
  });

  it('is exact to 1e-12 for any lot', () => {
    fc.assert(
      fc.property(anyDrawing(1500), fc.nat(), (drawing, any) => {
        expectExact(any % (drawing.sampleSize + 1), drawing);
      }),
      { numRuns: 400 },
    );
    fc.assert(
      fc.property(anyDrawing(20), fc.integer({ min: -1, max: 21 }), (drawing, most) => expectExact(most, drawing)),
      { numRuns: 2000 },
    );
  });

  it('is what can be counted by hand', () => {
    // 2 of 5 pieces do not conform; of 2 drawn both conform in 3 of 10 pairs, both do not in 1 of 10.
    const drawing = { lotSize: 5, nonconforming: 2, sampleSize: 2 };
    expect(hypergeometricAtMost(0, drawing)).toBeCloseTo(0.3, 14);
    expect(hypergeometricAtMost(1, drawing)).toBeCloseTo(0.9, 14);
    expect(hypergeometricAtMost(2, drawing)).toBe(1);
    expect(hypergeometricChance(2, drawing)).toBeCloseTo(0.1, 14);
    expect(hypergeometricChance(3, drawing)).toBe(0);
  });

  it('knows what cannot be otherwise', () => {
    expect(hypergeometricAtMost(0, { lotSize: 10, nonconforming: 0, sampleSize: 5 })).toBe(1);
    expect(hypergeometricAtMost(0, { lotSize: 10, nonconforming: 10, sampleSize: 1 })).toBe(0);
    expect(hypergeometricAtMost(0, { lotSize: 10, nonconforming: 3, sampleSize: 10 })).toBe(0);
    expect(hypergeometricAtMost(3, { lotSize: 10, nonconforming: 3, sampleSize: 10 })).toBe(1);
    expect(hypergeometricAtMost(-1, { lotSize: 10, nonconforming: 3, sampleSize: 2 })).toBe(0);
    expect(hypergeometricAtMost(0, { lotSize: 10, nonconforming: 3, sampleSize: 0 })).toBe(1);
  });

  it('is the sum of the chances of each count', () => {
    fc.assert(
      fc.property(anyDrawing(300), (drawing) => {
        let sum = 0;
        for (let found = 0; found <= drawing.sampleSize; found++) {
          sum += hypergeometricChance(found, drawing);
          expect(Math.abs(hypergeometricAtMost(found, drawing) - sum)).toBeLessThan(1e-12);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('is the same whether the sample or the nonconforming pieces are drawn', () => {
    fc.assert(
      fc.property(anyDrawing(100_000), fc.nat({ max: 50 }), ({ lotSize, nonconforming, sampleSize }, most) => {
        const one = hypergeometricAtMost(most, { lotSize, nonconforming, sampleSize });
        const other = hypergeometricAtMost(most, { lotSize, nonconforming: sampleSize, sampleSize: nonconforming });
        expect(Math.abs(one - other)).toBeLessThanOrEqual(1e-11 * one);
      }),
    );
  });

  it('falls with the sample and with the nonconforming pieces, and stays a chance', () => {
    fc.assert(
      fc.property(anyDrawing(5000), fc.nat({ max: 30 }), (drawing, most) => {
        const chance = hypergeometricAtMost(most, drawing);
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
        const { lotSize, nonconforming, sampleSize } = drawing;
        const slack = chance * (1 + 1e-11);
        if (sampleSize < lotSize) {
          expect(hypergeometricAtMost(most, { ...drawing, sampleSize: sampleSize + 1 })).toBeLessThanOrEqual(slack);
        }
        if (nonconforming < lotSize) {
          expect(hypergeometricAtMost(most, { ...drawing, nonconforming: nonconforming + 1 })).toBeLessThanOrEqual(
            slack,
          );
        }
      }),
    );
  });
});
