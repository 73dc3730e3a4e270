import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chanceOfAcceptance, qualityAccepted, type Sampled, TABULATED } from '../../../core/sampling/oc.ts';

const plan = (sampleSize: number, accept: number): Sampled => ({ sampleSize, accept });

/** Chance of at most `accept` of `sampleSize`, term by term: another way to the same figure. */
function termByTerm({ sampleSize, accept }: Sampled, share: number): number {
  let term = (1 - share) ** sampleSize;
  let sum = term;
  for (let found = 1; found <= accept; found++) {
    term *= ((sampleSize - found + 1) / found) * (share / (1 - share));
    sum += term;
  }
  return sum;
}

describe('chance that a lot is accepted', () => {
  it('is that of the plan n 52, c 3 (NIST/SEMATECH e-Handbook 6.2.3.2; printed row from memory, within its rounding)', () => {
    const printed = [0.998, 0.98, 0.93, 0.845, 0.739, 0.62, 0.502, 0.394, 0.3, 0.223, 0.162, 0.115];
    printed.forEach((chance, index) => {
      expect(Math.abs(chanceOfAcceptance(plan(52, 3), (index + 1) / 100) - chance)).toBeLessThan(1.5e-3);
    });
  });

  it.each([
    // The manual of the R package AcceptanceSampling.
    [20, 0, 0.05, 0.358],
    [20, 0, 0.15, 0.039],
    // The vignette of the R package AQLSchemes.
    [200, 7, 0.064, 0.054],
    // The two points that n 80, c 7 is found for in the manual of AcceptanceSampling: worked out exactly here.
    [80, 7, 0.05, 0.9534],
    [80, 7, 0.15, 0.0727],
  ])('of n %i, c %i at %f is %f', (n, accept, share, chance) => {
    const digits = String(chance).length - 2;
    expect(chanceOfAcceptance(plan(n, accept), share)).toBeCloseTo(chance, digits);
  });

  it('is the sum of the terms', () => {
    const sampled = fc
      .integer({ min: 1, max: 400 })
      .chain((n) => fc.tuple(fc.constant(n), fc.integer({ min: 0, max: n - 1 })));
    fc.assert(
      fc.property(sampled, fc.double({ min: 1e-4, max: 0.7, noNaN: true }), ([n, accept], share) => {
        const chance = chanceOfAcceptance(plan(n, accept), share);
        expect(Math.abs(chance - termByTerm(plan(n, accept), share))).toBeLessThan(1e-9);
      }),
    );
  });

  it('falls from certainty to nothing as lots get worse', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2000 }), fc.nat(), (n, any) => {
        const sampled = plan(n, any % n);
        expect(chanceOfAcceptance(sampled, 0)).toBe(1);
        expect(chanceOfAcceptance(sampled, 1)).toBe(0);
        const chances = Array.from({ length: 101 }, (_, index) => chanceOfAcceptance(sampled, index / 100));
        for (let index = 1; index <= 100; index++) {
          expect(chances[index]).toBeLessThanOrEqual((chances[index - 1] as number) + 1e-12);
        }
      }),
      { numRuns: 50 },
    );
  });

  it('refuses what is no share', () => {
    for (const share of [-0.01, 1.01, Number.NaN]) {
      expect(() => chanceOfAcceptance(plan(10, 1), share)).toThrow('share-impossible');
      expect(() => qualityAccepted(plan(10, 1), share)).toThrow('share-impossible');
    }
    expect(() => qualityAccepted(plan(10, 1), 1)).toThrow('share-impossible');
  });
});

describe('quality of the lots that are accepted with a chance', () => {
  // What MIL-STD-105E Tables X-A to X-R tabulate, in per cent; worked out with another program from the binomial distribution.
  it.each([
    [13, 0, [0.077, 0.394, 0.807, 2.189, 5.192, 10.115, 16.232, 20.582, 29.83]],
    [20, 0, [0.05, 0.256, 0.525, 1.428, 3.406, 6.697, 10.875, 13.911, 20.567]],
    [32, 0, [0.031, 0.16, 0.329, 0.895, 2.143, 4.24, 6.943, 8.937, 13.404]],
    [50, 2, [0.886, 1.655, 2.224, 3.464, 5.312, 7.691, 10.296, 12.061, 15.77]],
    [80, 1, [0.187, 0.446, 0.667, 1.202, 2.089, 3.33, 4.775, 5.793, 8.011]],
    [80, 2, [0.55, 1.03, 1.385, 2.163, 3.329, 4.842, 6.516, 7.661, 10.095]],
    [200, 7, [1.468, 2.006, 2.342, 2.986, 3.828, 4.81, 5.815, 6.473, 7.821]],
  ] as const)('of n %i, c %i', (n, accept, percents) => {
    percents.forEach((percent, index) => {
      const found = 100 * qualityAccepted(plan(n, accept), TABULATED[index] as number);
      expect(Math.abs(found - percent)).toBeLessThanOrEqual(0.0005 + 1e-9);
    });
  });

  it('leads back to the chance', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 2000 }),
        fc.nat(),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (n, any, chance) => {
          const sampled = plan(n, any % n);
          expect(chanceOfAcceptance(sampled, qualityAccepted(sampled, chance))).toBeCloseTo(chance, 8);
        },
      ),
      { numRuns: 200 },
    );
  });
});
