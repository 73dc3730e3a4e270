import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chanceInLot,
  chanceOfAcceptance,
  qualityAccepted,
  type Sampled,
  TABULATED,
} from '../../../core/sampling/oc.ts';
import { exactAtMost, exactBinomialAtMost } from './exactFractions.ts';

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

const double = (size: number, first: [number, number], second: [number, number]): Sampled => ({
  sampleSize: size,
  accept: first[0],
  reject: first[1],
  further: { kind: 'second-sample', sampleSize: size, accept: second[0], reject: second[1] },
});

/** Chance by going through every pair of counts with the plan in hand. */
function pairByPair(
  { sampleSize, accept, reject = accept + 1, further }: Sampled,
  first: (found: number) => number,
  second: (found: number, afterFirst: number) => number,
): number {
  let chance = 0;
  for (let one = 0; one <= sampleSize; one++) {
    if (one <= accept) chance += first(one);
    if (one <= accept || one >= reject || !further) continue;
    for (let two = 0; two <= further.sampleSize; two++) {
      if (one + two < further.reject) chance += first(one) * second(two, one);
    }
  }
  return chance;
}

const anyDouble = fc
  .record({
    size: fc.integer({ min: 2, max: 30 }),
    accept: fc.nat({ max: 4 }),
    open: fc.integer({ min: 1, max: 5 }),
    more: fc.nat({ max: 8 }),
    gap: fc.nat({ max: 3 }),
  })
  .map(({ size, accept, open, more, gap }) =>
    double(size, [accept, accept + open + 1], [accept + more, accept + Math.max(more, open) + 1 + gap]),
  );

describe('a gap between the numbers', () => {
  // MIL-STD-105E, 4.10.1.4, from memory: reduced inspection, a count between Ac and Re: the lot is accepted.
  it('accepts what lies in it', () => {
    const reduced = { sampleSize: 50, accept: 1, reject: 4 };
    for (const share of [0.01, 0.05, 0.1]) {
      expect(chanceOfAcceptance(reduced, share)).toBeCloseTo(chanceOfAcceptance(plan(50, 3), share), 14);
    }
    expect(qualityAccepted(reduced, 0.1)).toBeCloseTo(qualityAccepted(plan(50, 3), 0.1), 14);
  });
});

describe('double sampling', () => {
  it('in exact fractions: n 8 and 8, (0, 2) and (1, 2), a tenth nonconforming', () => {
    // Worked out here: 0.9^8 for none in the first sample, 8·0.1·0.9^7 for one of them, and none in the second.
    const exact = 0.9 ** 8 + 8 * 0.1 * 0.9 ** 7 * 0.9 ** 8;
    expect(chanceOfAcceptance(double(8, [0, 2], [1, 2]), 0.1)).toBeCloseTo(exact, 14);
  });

  it('is the sum over all pairs of counts', () => {
    fc.assert(
      fc.property(anyDouble, fc.integer({ min: 1, max: 999 }), (sampled, thousandths) => {
        const exactly = (found: number, tries: number) =>
          exactBinomialAtMost(found, tries, thousandths, 1000) -
          (found === 0 ? 0 : exactBinomialAtMost(found - 1, tries, thousandths, 1000));
        const size = sampled.sampleSize;
        const exact = pairByPair(
          sampled,
          (found) => exactly(found, size),
          (found) => exactly(found, size),
        );
        expect(Math.abs(chanceOfAcceptance(sampled, thousandths / 1000) - exact)).toBeLessThan(1e-12);
      }),
      { numRuns: 60 },
    );
  });

  it('in a lot is the sum over all pairs of counts without putting back', () => {
    fc.assert(
      fc.property(anyDouble, fc.nat({ max: 60 }), fc.nat(), (sampled, spare, any) => {
        const size = sampled.sampleSize;
        const lotSize = 2 * size + spare;
        const nonconforming = any % (lotSize + 1);
        const exactly = (found: number, lot: number, bad: number) =>
          exactAtMost(found, { lotSize: lot, nonconforming: bad, sampleSize: size }) -
          (found === 0 ? 0 : exactAtMost(found - 1, { lotSize: lot, nonconforming: bad, sampleSize: size }));
        const exact = pairByPair(
          sampled,
          (found) => (found > nonconforming ? 0 : exactly(found, lotSize, nonconforming)),
          (found, before) =>
            before > nonconforming || size - before > lotSize - nonconforming
              ? 0
              : exactly(found, lotSize - size, nonconforming - before),
        );
        expect(Math.abs(chanceInLot(sampled, { lotSize, nonconforming }) - exact)).toBeLessThan(1e-12);
      }),
      { numRuns: 60 },
    );
  });

  it('falls from certainty to nothing, and the quality leads back to the chance', () => {
    fc.assert(
      fc.property(anyDouble, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (sampled, chance) => {
        expect(chanceOfAcceptance(sampled, 0)).toBe(1);
        const chances = Array.from({ length: 101 }, (_, index) => chanceOfAcceptance(sampled, index / 100));
        for (let index = 1; index <= 100; index++) {
          expect(chances[index]).toBeLessThanOrEqual((chances[index - 1] as number) + 1e-12);
        }
        const quality = qualityAccepted(sampled, chance);
        if (chanceOfAcceptance(sampled, 1) > chance) expect(quality).toBe(1);
        else expect(chanceOfAcceptance(sampled, quality)).toBeCloseTo(chance, 9);
      }),
      { numRuns: 60 },
    );
  });
});

describe('one lot', () => {
  it('is decided by the hypergeometric distribution', () => {
    expect(chanceInLot(plan(2, 0), { lotSize: 5, nonconforming: 2 })).toBeCloseTo(0.3, 14);
    expect(chanceInLot({ sampleSize: 2, accept: 0, reject: 2 }, { lotSize: 5, nonconforming: 2 })).toBeCloseTo(0.9, 14);
    expect(chanceInLot(plan(5, 2), { lotSize: 5, nonconforming: 2 })).toBe(1);
    expect(chanceInLot(plan(5, 1), { lotSize: 5, nonconforming: 2 })).toBe(0);
  });

  it('is like a process where it is large', () => {
    const lot = { lotSize: 1_000_000_000, nonconforming: 20_000_000 };
    for (const sampled of [plan(80, 2), double(50, [0, 3], [3, 4])]) {
      expect(chanceInLot(sampled, lot)).toBeCloseTo(chanceOfAcceptance(sampled, 0.02), 6);
    }
  });
});

describe('mean and spread given up for counting', () => {
  it('is the chance of counting all pieces', () => {
    const sampled: Sampled = {
      sampleSize: 75,
      accept: 7,
      reject: 8,
      further: { kind: 'attributes', sampleSize: 125, accept: 7, reject: 8 },
    };
    expect(chanceOfAcceptance(sampled, 0.05)).toBe(chanceOfAcceptance(plan(200, 7), 0.05));
    expect(qualityAccepted(sampled, 0.1)).toBe(qualityAccepted(plan(200, 7), 0.1));
  });
});

describe('normal and tightened inspection together', () => {
  // Stephens and Larson 1967, as in the vignette of the R package AQLSchemes: 200, Ac 7 normal and 5 tightened, switched by 2 of 5
  // lots not accepted and 5 accepted on end; .95 and .10 are printed there.
  it.each([
    [0.019296, 0.95],
    [0.045884, 0.1],
  ])('at %f nonconforming accept %f of the lots', (share, printed) => {
    const normal = chanceOfAcceptance(plan(200, 7), share);
    const tightened = chanceOfAcceptance(plan(200, 5), share);
    const a = (2 - normal ** 4) / ((1 - normal) * (1 - normal ** 4));
    const b = (1 - tightened ** 5) / ((1 - tightened) * tightened ** 5);
    expect(Math.abs((a * normal + b * tightened) / (a + b) - printed)).toBeLessThan(0.005);
  });
});
