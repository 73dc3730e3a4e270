import { describe, expect, it } from 'vitest';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { REEL_NAMES, type ReelName } from '../../instruments/bench/reels.ts';
import { type BenchScenarioInput, readScenario, scenarioForPart } from '../../instruments/bench/scenario.ts';

const COUNT = 4000;
const PURE = { nominalOhms: 1000, meanOffsetPercent: 0, spreadPercent: 1, shareOpen: 0, shareWrong: 0 };

function piecesOf(scenario: BenchScenarioInput, count = COUNT): number[] {
  const read = readScenario(scenario);
  return Array.from({ length: count }, (_, index) => trueOhms(read, index + 1)).filter((ohms) => ohms !== null);
}

const lotPieces = (lot: BenchScenarioInput['lot'], seed = 12) => piecesOf({ seed, lot: { ...PURE, ...lot } });
const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const deviation = (values: number[]) => {
  const centre = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1));
};
/** A share of `COUNT` pieces within four standard deviations of the binomial. */
function expectShare(found: number, share: number) {
  expect(Math.abs(found / COUNT - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / COUNT));
}

describe('what a lot can be', () => {
  it('drifts along the reel by so much from piece to piece', () => {
    const still = lotPieces({});
    const drifting = lotPieces({ driftPpmPerPiece: 5 });
    // 5 ppm of 1 kΩ are 5 mΩ; the deviation of a piece is a share of the mean it belongs to.
    for (const [index, ohms] of drifting.entries()) {
      expect(ohms / (still[index] ?? Number.NaN)).toBeCloseTo(1 + index * 5e-6, 9);
    }
  });

  // Normal table: 38.29 % lie within half a standard deviation, 68.27 % within one, 86.64 % within one and a half.
  it('has a hole where the best pieces were picked out, and is as normal as before beyond it', () => {
    const values = lotPieces({ pickedOutPercent: 0.5 });
    const off = values.map((ohms) => Math.abs(ohms - 1000));
    expect(Math.min(...off)).toBeGreaterThanOrEqual(5 - 1e-9);
    expectShare(off.filter((ohms) => ohms <= 10).length, (0.6827 - 0.3829) / (1 - 0.3829));
    expectShare(values.filter((ohms) => ohms > 1000).length, 0.5);
  });

  it('ends where its tails were cut, and is as normal as before inside', () => {
    const off = lotPieces({ cutPercent: 1.5 }).map((ohms) => Math.abs(ohms - 1000));
    expect(Math.max(...off)).toBeLessThanOrEqual(15 + 1e-9);
    expectShare(off.filter((ohms) => ohms <= 10).length, 0.6827 / 0.8664);
  });

  it('is two populations, each with its share, mean and spread', () => {
    const values = lotPieces({ spreadPercent: 0.2, shareSecond: 0.3, secondOffsetPercent: 4 });
    const second = values.filter((ohms) => ohms > 1020);
    const first = values.filter((ohms) => ohms <= 1020);
    expectShare(second.length, 0.3);
    for (const [population, centre] of [
      [first, 1000],
      [second, 1040],
    ] as const) {
      const spread = centre * 0.002;
      expect(Math.abs(mean(population) - centre)).toBeLessThan((4 * spread) / Math.sqrt(population.length));
      expect(Math.abs(deviation(population) - spread)).toBeLessThan((4 * spread) / Math.sqrt(2 * population.length));
    }
  });

  it('keeps wrong pieces whatever was sorted: they came later', () => {
    const values = lotPieces({ cutPercent: 1, shareWrong: 0.02, wrongOhms: 1200 });
    expectShare(values.filter((ohms) => ohms > 1100).length, 0.02);
  });

  it('ends at the edge of what sorting left, where it has next to no such pieces', () => {
    expect(new Set(lotPieces({ spreadPercent: 0, pickedOutPercent: 2 }).map((ohms) => Math.round(ohms)))).toEqual(
      new Set([1020]),
    );
    for (const ohms of lotPieces({ spreadPercent: 0, meanOffsetPercent: 5, cutPercent: 2 })) {
      expect(ohms).toBeCloseTo(1020, 9);
    }
  });

  it('is refused where sorting would leave nothing', () => {
    expect(() => readScenario({ lot: { pickedOutPercent: 2, cutPercent: 2 } })).toThrow(
      expect.objectContaining({ code: 'input-invalid' }),
    );
  });
});

const WINDOW = { lowerOhms: 4653, upperOhms: 4747 };
const reelOf = (reel: ReelName, seed: number) => scenarioForPart({ seed, nominalOhms: 4700, ...WINDOW, reel });
const isOut = (ohms: number) => ohms < WINDOW.lowerOhms || ohms > WINDOW.upperOhms;
const SEEDS = Array.from({ length: 20 }, (_, index) => index + 1);

describe('the reels to practise on, of 4.7 kΩ ±1 %', () => {
  it('without a name is the usual one', () => {
    expect(scenarioForPart({ seed: 3, nominalOhms: 4700, ...WINDOW })).toEqual(reelOf('usual', 3));
  });

  it('that drift are good at their beginning and leave the window, up or down, at some piece', () => {
    const ends = SEEDS.map((seed) => {
      const values = piecesOf(reelOf('drifting', seed), 800);
      const firstOut = values.findIndex(isOut);
      expect(firstOut).toBeGreaterThan(200);
      expect(firstOut).toBeLessThan(500);
      return mean(values.slice(-100)) > 4700;
    });
    expect(new Set(ends).size).toBe(2);
  });

  it('that are sorted have nothing in the middle, and nothing outside', () => {
    for (const seed of SEEDS) {
      const values = piecesOf(reelOf('sorted', seed), 300);
      // Three tenths of half the window of 47 Ω.
      expect(values.filter((ohms) => Math.abs(ohms - 4700) < 14.1 - 1e-6)).toEqual([]);
      expect(values.filter(isOut)).toEqual([]);
    }
  });

  it('that are cut fill the window to its limits and not beyond', () => {
    for (const seed of SEEDS) {
      const values = piecesOf(reelOf('cut', seed), 300);
      expect(values.filter(isOut)).toEqual([]);
      expect(Math.min(...values)).toBeLessThan(4660);
      expect(Math.max(...values)).toBeGreaterThan(4740);
    }
  });

  it('that are mixed are few in the valley between their two lots', () => {
    for (const seed of SEEDS) {
      const values = piecesOf(reelOf('mixed', seed), 600);
      // The smaller of the two lots, on whichever side it is, is the further off and draws the mean its way.
      const side = Math.sign(mean(values) - 4700);
      const off = values.map((ohms) => (side * (ohms - 4700)) / 47);
      const low = off.filter((share) => share < 0.15).length;
      const high = off.filter((share) => share > 0.3).length;
      expect(Math.min(low, high) / off.length).toBeGreaterThan(0.25);
      expect((off.length - low - high) / off.length).toBeLessThan(0.05);
    }
  });

  it('with strays have some pieces far outside, and the others as a good lot', () => {
    const values = SEEDS.flatMap((seed) => piecesOf(reelOf('strays', seed), COUNT / SEEDS.length));
    expectShare(values.filter((ohms) => ohms > 5000).length, 0.02);
    expect(values.filter((ohms) => isOut(ohms) && ohms < 5000).length / COUNT).toBeLessThan(0.001);
  });

  it.each(REEL_NAMES)('can be laid there for any part: %s', (reel) => {
    const parts = [
      { nominalOhms: null, lowerOhms: 4600, upperOhms: 4800 },
      { nominalOhms: 0, lowerOhms: -0.02, upperOhms: 0.02 },
      { nominalOhms: 0, lowerOhms: null, upperOhms: 0.05 },
      { nominalOhms: null, lowerOhms: 1e6, upperOhms: null },
      { nominalOhms: 1e9, lowerOhms: 0.8e9, upperOhms: 1.2e9 },
    ];
    for (const part of parts) {
      const values = piecesOf(scenarioForPart({ seed: 3, reel, ...part }), 50);
      const inside = values.filter((ohms) => ohms >= (part.lowerOhms ?? 0) && ohms <= (part.upperOhms ?? Infinity));
      expect(inside.length).toBeGreaterThan(35);
    }
  });
});
