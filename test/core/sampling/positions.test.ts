import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import fc from 'fast-check';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';
import { describe, expect, it } from 'vitest';
import { Problem } from '../../../core/problem/problem.ts';
import {
  drawn,
  isAskedFor,
  LARGEST_SEED,
  MOST_DRAWN,
  mustBeDrawable,
  type PositionsChoice,
  positionOf,
  type Sampled,
} from '../../../core/sampling/positions.ts';

const sampled = (positions: PositionsChoice, size: number, sampleSize: number): Sampled => ({
  positions,
  lot: { size },
  plan: { sampleSize, further: null },
});
const allOf = (of: Sampled) => Array.from({ length: of.plan.sampleSize }, (_, index) => positionOf(of, index + 1));

const anySeed = fc.integer({ min: 0, max: LARGEST_SEED });
const anyChoice: fc.Arbitrary<PositionsChoice> = fc.oneof(
  anySeed.map((seed) => ({ kind: 'random', seed }) as const),
  fc.constant({ kind: 'spread' } as const),
);
/** A lot and a sample of it, from one piece to all. */
const anySizes = fc
  .oneof(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 20_000 }))
  .chain((size) => fc.tuple(fc.constant(size), fc.integer({ min: 1, max: Math.min(size, 400) })));

describe('positions along the reel', () => {
  it('are one for each piece, distinct, on the reel, rising, and the same each time', () => {
    fc.assert(
      fc.property(anyChoice, anySizes, (choice, [size, sampleSize]) => {
        const positions = allOf(sampled(choice, size, sampleSize));
        for (const [index, at] of positions.entries()) {
          expect(Number.isInteger(at)).toBe(true);
          expect(at).toBeGreaterThan(positions[index - 1] ?? 0);
          expect(at).toBeLessThanOrEqual(size);
        }
        // A choice that was read again from a record or a file is another object.
        expect(allOf(sampled({ ...choice }, size, sampleSize))).toEqual(positions);
      }),
    );
  });

  it('are every piece where the whole lot is the sample', () => {
    fc.assert(
      fc.property(anyChoice, fc.integer({ min: 1, max: 200 }), (choice, size) => {
        expect(allOf(sampled(choice, size, size))).toEqual(Array.from({ length: size }, (_, index) => index + 1));
      }),
    );
    expect([...drawn(5, 40, 40)]).toEqual(Array.from({ length: 40 }, (_, index) => index + 1));
  });

  it('are nowhere for a piece that is not of the sample, and wherever pieces are taken as they come', () => {
    for (const piece of [0, -1, 6]) expect(positionOf(sampled({ kind: 'spread' }, 100, 5), piece)).toBeNull();
    expect(positionOf(sampled({ kind: 'as-taken' }, 100, 5), 1)).toBeNull();
    expect(positionOf(sampled({ kind: 'as-taken' }, 5, 5), 1)).toBeNull();
  });

  it('are told from those no piece is asked for at', () => {
    fc.assert(
      fc.property(anyChoice, anySizes, (choice, [size, sampleSize]) => {
        const of = sampled(choice, size, sampleSize);
        const asked = new Set(allOf(of));
        for (const at of [...asked].slice(0, 20)) expect(isAskedFor(of, at as number)).toBe(true);
        for (let at = 0; at <= Math.min(size + 1, 60); at++) expect(isAskedFor(of, at)).toBe(asked.has(at));
      }),
    );
  });
});

describe('positions drawn at random', () => {
  it('depend on the seed and on nothing else', () => {
    // Recorded with this program: records and certificates hold only the seed, so they must never change.
    const recorded = [528, 1232, 2787, 3134, 3198, 3350, 4120, 4519];
    expect([...drawn(20_261_126, 5000, 8)]).toEqual(recorded);
    expect([...drawn(20_261_127, 5000, 8)]).not.toEqual(recorded);
  });

  // Chi-square with a fixed seed for each of so many draws: it fails where chance alone would make it fail once in 10 000.
  const expectEven = (counts: readonly number[], expected: number, degreesOfFreedom: number) => {
    const chiSquare = counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
    expect(chiSquare).toBeLessThan(chiSquareQuantile(0.9999, degreesOfFreedom));
    // Nor too even to be random.
    expect(chiSquare).toBeGreaterThan(chiSquareQuantile(0.0001, degreesOfFreedom));
  };

  it('make every set of 3 positions of 7 as often as every other (MIL-STD-105E, 4.8: at random)', () => {
    const sets = new Map<string, number>();
    const draws = 35_000;
    for (let seed = 0; seed < draws; seed++) {
      const set = drawn(seed, 7, 3).join(' ');
      sets.set(set, (sets.get(set) ?? 0) + 1);
    }
    // 7! / (3! 4!) of them.
    expect(sets.size).toBe(35);
    expectEven([...sets.values()], draws / 35, 34);
  });

  it('lie evenly along a reel of 5000, seed after seed', () => {
    const generator = mersenne(11);
    const tenths = Array<number>(10).fill(0);
    const draws = 2000;
    for (let seed = 1; seed <= draws; seed++) {
      // One of each draw, taken at random from it: several would not be independent of each other.
      const positions = drawn(seed * 7919, 5000, 50);
      const at = positions[uniformInt(generator, 0, 49)] as number;
      tenths[Math.floor((at - 1) / 500)] = (tenths[Math.floor((at - 1) / 500)] ?? 0) + 1;
    }
    expectEven(tenths, draws / 10, 9);
  });

  it('are drawn quickly from a very large lot, and not more than anybody would measure', () => {
    const began = performance.now();
    const positions = drawn(9, Number.MAX_SAFE_INTEGER, 2000);
    expect(new Set(positions).size).toBe(2000);
    expect(performance.now() - began).toBeLessThan(500);
    const many = { lot: { size: MOST_DRAWN + 2 }, plan: { sampleSize: MOST_DRAWN + 1, further: null } };
    expect(() => mustBeDrawable({ positions: { kind: 'random', seed: 1 }, ...many })).toThrow(Problem);
    mustBeDrawable({ positions: { kind: 'spread' }, ...many });
    mustBeDrawable({
      positions: { kind: 'random', seed: 1 },
      lot: { size: 2e6 },
      plan: { sampleSize: 2e6, further: null },
    });
  });
});

describe('positions spread along the reel', () => {
  const spread = (size: number, sampleSize: number) => allOf(sampled({ kind: 'spread' }, size, sampleSize));

  it('are thirds at the beginning, in the middle and at the end (common practice)', () => {
    expect(spread(5000, 6)).toEqual([1, 2, 2500, 2501, 4999, 5000]);
    expect(spread(5000, 7)).toEqual([1, 2, 2499, 2500, 2501, 4999, 5000]);
    expect(spread(5000, 8)).toEqual([1, 2, 3, 2500, 2501, 4998, 4999, 5000]);
    expect(spread(5001, 9)).toEqual([1, 2, 3, 2500, 2501, 2502, 4999, 5000, 5001]);
    expect(spread(5001, 3)).toEqual([1, 2501, 5001]);
    expect(spread(5000, 2)).toEqual([1, 5000]);
    expect(spread(5000, 1)).toEqual([2500]);
  });

  it('differ between thirds by one piece at most, and lie the same from either end', () => {
    fc.assert(
      fc.property(anySizes, ([size, sampleSize]) => {
        fc.pre(sampleSize < size);
        const positions = spread(size, sampleSize) as number[];
        const atEachEnd = positions.filter((at, index) => at === index + 1).length;
        fc.pre(atEachEnd < size / 3);
        const inMiddle = sampleSize - 2 * Math.floor((sampleSize + 1) / 3);
        expect(Math.abs(inMiddle - Math.floor((sampleSize + 1) / 3))).toBeLessThanOrEqual(1);
        const mirrored = positions.map((at) => size + 1 - at).reverse();
        // An odd piece left over in the middle makes half a position of difference.
        for (const [index, at] of positions.entries())
          expect(Math.abs(at - (mirrored[index] as number))).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe('positions where further pieces may be needed', () => {
  const inTwo = (positions: PositionsChoice, size: number, first: number, further: number): Sampled => ({
    positions,
    lot: { size },
    plan: { sampleSize: first, further: { kind: 'second-sample', sampleSize: further, accept: 1, reject: 2 } },
  });
  const anyTwo = fc
    .tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 500 }))
    .map(([first, further, rest]) => ({ first, further, size: first + further + rest }));

  it('rise in each of the two parts, are distinct in all, and are those of one large sample', () => {
    fc.assert(
      fc.property(anyChoice, anyTwo, (choice, { first, further, size }) => {
        const of = inTwo(choice, size, first, further);
        const all = Array.from({ length: first + further }, (_, index) => positionOf(of, index + 1) as number);
        const rises = (part: readonly number[]) =>
          part.every((at, index) => index === 0 || at > (part[index - 1] ?? 0));
        expect(rises(all.slice(0, first)) && rises(all.slice(first))).toBe(true);
        expect(new Set(all).size).toBe(all.length);
        if (further > 0) expect(all.toSorted((a, b) => a - b)).toEqual(allOf(sampled(choice, size, first + further)));
        for (const at of all) expect(isAskedFor(of, at)).toBe(true);
        expect(positionOf(of, first + further + 1)).toBeNull();
        const asked = Array.from({ length: size }, (_, index) => index + 1).filter((at) => isAskedFor(of, at));
        expect(asked).toHaveLength(first === size ? size : all.length);
      }),
    );
  });

  it('make the sample alone as random as all of them: each half of the reel has its share', () => {
    let early = 0;
    const draws = 2000;
    for (let seed = 0; seed < draws; seed++) {
      const of = inTwo({ kind: 'random', seed }, 1000, 8, 8);
      for (let piece = 1; piece <= 8; piece++) early += (positionOf(of, piece) as number) <= 500 ? 1 : 0;
    }
    // Binomial of 16 000 with 1/2: standard deviation 63.
    expect(Math.abs(early - 8000)).toBeLessThan(5 * 64);
  });

  it('of a spread sample are an even part of all', () => {
    const of = inTwo({ kind: 'spread' }, 300, 3, 3);
    expect(Array.from({ length: 6 }, (_, index) => positionOf(of, index + 1))).toEqual([2, 151, 300, 1, 150, 299]);
  });
});
