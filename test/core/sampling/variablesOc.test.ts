import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chanceByVariables, qualityByVariables, type SampledByVariables } from '../../../core/sampling/variablesOc.ts';

const letterJ: SampledByVariables = { sampleSize: 35, k: '1.89', spread: 'unknown' };

describe('the operating characteristic by variables', () => {
  // ISO 3951, letter J, AQL 1 %: n 35, k 1.89, as in the manual of the R package AcceptanceSampling (.0165 at 10 %, .00975 at 11 %);
  // the other figures are computed only, by another program.
  it.each([
    [0.01, 0.941672, 6],
    [0.02, 0.736068, 6],
    [0.05, 0.208921, 6],
    [0.08, 0.046695, 6],
    [0.1, 0.0165, 4],
    [0.1, 0.016507, 6],
    [0.11, 0.00975, 5],
    [0.11, 0.009749, 6],
  ])('of letter J at %d is %d', (share, chance, digits) => {
    expect(chanceByVariables(letterJ, share)).toBeCloseTo(chance, digits);
  });

  it('of letter J is 1 % at 10.95 % nonconforming (Table V-J-1 of the standard, by the same manual)', () => {
    expect(100 * qualityByVariables(letterJ, 0.01)).toBeCloseTo(10.95, 2);
  });

  it('of known spread is that of a normal mean (computed only, by scipy: n 26, k 1.3205)', () => {
    const plan: SampledByVariables = { sampleSize: 26, k: '1.3205', spread: 'known' };
    expect(chanceByVariables(plan, 0.05)).toBeCloseTo(0.950925, 6);
    expect(chanceByVariables(plan, 0.15)).toBeCloseTo(0.073744, 6);
  });

  const anyPlan = fc.record({
    sampleSize: fc.integer({ min: 3, max: 500 }),
    k: fc.integer({ min: -500, max: 3000 }).map((thousandths) => (thousandths / 1000).toFixed(3)),
    spread: fc.constantFrom('unknown' as const, 'known' as const),
  });

  it('falls from certainty to nothing as lots get worse', () => {
    fc.assert(
      fc.property(anyPlan, (plan) => {
        expect(chanceByVariables(plan, 0)).toBe(1);
        expect(chanceByVariables(plan, 1)).toBe(0);
        let before = 1;
        for (let share = 0.001; share < 1; share += 0.023) {
          const chance = chanceByVariables(plan, share);
          expect(chance).toBeLessThanOrEqual(before + 1e-12);
          before = chance;
        }
      }),
      { numRuns: 50 },
    );
  });

  it('leads back to the quality', () => {
    fc.assert(
      fc.property(anyPlan, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (plan, chance) => {
        const quality = qualityByVariables(plan, chance);
        expect(quality).toBeGreaterThanOrEqual(0);
        expect(quality).toBeLessThanOrEqual(1);
        // Where a share is no double but 0 or 1 there is no way back.
        if (quality > 1e-300 && quality < 1 - 1e-6) expect(chanceByVariables(plan, quality)).toBeCloseTo(chance, 9);
      }),
      { numRuns: 100 },
    );
  });

  it('of lots in which next to nothing is wrong is there too, and near to certainty', () => {
    for (const spread of ['unknown', 'known'] as const) {
      for (const share of [1e-12, 1e-17, 1e-200, 5e-324]) {
        expect(chanceByVariables({ ...letterJ, spread }, share)).toBeGreaterThan(0.999999);
      }
    }
  });

  it('refuses what is no share', () => {
    for (const share of [-0.01, 1.01, Number.NaN]) {
      expect(() => chanceByVariables(letterJ, share)).toThrow('share-impossible');
      expect(() => qualityByVariables(letterJ, share)).toThrow('share-impossible');
    }
    expect(() => qualityByVariables(letterJ, 1)).toThrow('share-impossible');
    expect(() => qualityByVariables(letterJ, 0)).toThrow('share-impossible');
  });
});
