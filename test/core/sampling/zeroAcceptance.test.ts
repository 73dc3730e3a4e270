import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { zeroAcceptancePlan } from '../../../core/sampling/zeroAcceptance.ts';
import { exactAtMost } from './exactFractions.ts';

describe('zero-acceptance plans', () => {
  // Worked out in exact fractions in this repository (exactFractions.ts); no published table was at hand.
  it.each([
    [1000, '1', '5', 258, 10],
    [500_000, '0.1', '10', 2297, 500],
    [100, '10', '10', 20, 10],
    // One of ten pieces does not conform: left out of nine with a chance of exactly one in ten.
    [10, '10', '10', 9, 1],
    [10, '10', '9.999', 10, 1],
    // Less than a piece is a piece.
    [50, '0.1', '50', 25, 1],
    [1, '1', '5', 1, 1],
    [20, '100', '5', 1, 20],
  ])(
    'for %i pieces, %s %% refused but for %s %%: %i pieces (%i nonconforming)',
    (lotSize, refused, risk, sampleSize, pieces) =>
      expect(zeroAcceptancePlan(lotSize, refused, risk)).toMatchObject({
        sampleSize,
        accept: 0,
        reject: 1,
        refusedPieces: pieces,
      }),
  );

  it('count nonconforming pieces exactly: 7 % of 100 are 7 though 0.07 times 100 is more as doubles', () => {
    expect(0.07 * 100).toBeGreaterThan(7);
    expect(zeroAcceptancePlan(100, '7', '10').refusedPieces).toBe(7);
    expect(zeroAcceptancePlan(100, '7.0000000000000000001', '10').refusedPieces).toBe(8);
  });

  it('are within the risk, and one piece less is not (exact fractions)', () => {
    const percent = fc.integer({ min: 1, max: 9999 }).map((n) => (n / 100).toFixed(2));
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2000 }), percent, percent, (lotSize, refused, riskPercent) => {
        const { sampleSize, refusedPieces, chance } = zeroAcceptancePlan(lotSize, refused, riskPercent);
        const drawing = { lotSize, nonconforming: refusedPieces };
        const risk = Number(riskPercent) / 100;
        const exact = exactAtMost(0, { ...drawing, sampleSize });
        expect(exact).toBeLessThanOrEqual(risk * (1 + 1e-12));
        expect(Math.abs(chance - exact)).toBeLessThanOrEqual(1e-12 * exact);
        expect(exactAtMost(0, { ...drawing, sampleSize: sampleSize - 1 })).toBeGreaterThan(risk);
        expect(refusedPieces * 100).toBeGreaterThanOrEqual(lotSize * Number(refused) - 1e-6);
        expect((refusedPieces - 1) * 100).toBeLessThan(lotSize * Number(refused) + 1e-6);
      }),
      { numRuns: 200 },
    );
  });

  it('need no fewer pieces for a smaller risk or a better quality', () => {
    const percent = fc.integer({ min: 1, max: 9998 });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500_000 }), percent, percent, (lotSize, refused, risk) => {
        const size = (p: number, r: number) => zeroAcceptancePlan(lotSize, String(p / 100), String(r / 100)).sampleSize;
        expect(size(refused, risk + 1)).toBeLessThanOrEqual(size(refused, risk));
        expect(size(refused + 1, risk)).toBeLessThanOrEqual(size(refused, risk));
      }),
    );
  });

  it.each([
    [0, '1', '5', 'lot-empty'],
    [1.5, '1', '5', 'lot-empty'],
    [100, '0', '5', 'quality-percent-impossible'],
    [100, '-1', '5', 'quality-percent-impossible'],
    [100, '100.1', '5', 'quality-percent-impossible'],
    [100, '1', '0', 'risk-percent-impossible'],
    [100, '1', '100', 'risk-percent-impossible'],
  ])('for %s pieces at %s %% and %s %% are refused: %s', (lotSize, refused, risk, code) =>
    expect(() => zeroAcceptancePlan(lotSize, refused, risk)).toThrowError(expect.objectContaining({ code })),
  );
});
