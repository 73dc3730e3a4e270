import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { MeterModel, OVERLOAD } from '../../instruments/bench/meterModel.ts';
import { normalAt, uniformAt } from '../../instruments/bench/random.ts';
import { readScenario, scenarioForPart } from '../../instruments/bench/scenario.ts';
import { exactBench } from './exactBench.ts';

const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const deviation = (values: number[]) => {
  const centre = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - centre) ** 2)));
};
const pieces = (count: number) => Array.from({ length: count }, (_, index) => index + 1);

describe('random numbers by key', () => {
  // Standard normal table: 31.7 % lie beyond 1 standard deviation, 4.55 % beyond 2, 0.27 % beyond 3.
  it('are standard normal, and neighbours are independent', () => {
    const count = 40_000;
    for (const keys of [(n: number) => [1, 2, n], (n: number) => [n, 3, 1], (n: number) => [4, 3, 5, n]]) {
      const values = pieces(count).map((n) => normalAt(...keys(n)));
      const four = 4 / Math.sqrt(count);
      expect(Math.abs(mean(values))).toBeLessThan(four);
      expect(Math.abs(deviation(values) - 1)).toBeLessThan(four);
      for (const [limit, share] of [
        [1, 0.3173],
        [2, 0.0455],
        [3, 0.0027],
      ] as const) {
        const beyond = values.filter((value) => Math.abs(value) > limit).length / count;
        expect(Math.abs(beyond - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / count));
      }
      const products = values.slice(1).map((value, index) => value * (values[index] ?? 0));
      expect(Math.abs(mean(products))).toBeLessThan(four);
    }
  });

  it('are uniform', () => {
    const values = pieces(40_000).map((n) => uniformAt(9, 1, n));
    // Mean 1/2, standard deviation of the mean 1/sqrt(12 n).
    expect(Math.abs(mean(values) - 0.5)).toBeLessThan(4 / Math.sqrt(12 * 40_000));
    expect(values.every((value) => value >= 0 && value < 1)).toBe(true);
  });
});

describe('the lot on the simulated bench', () => {
  it('has the same pieces in whatever order they are looked at', () => {
    fc.assert(
      fc.property(fc.nat(1e6), fc.array(fc.integer({ min: 1, max: 1e9 }), { maxLength: 20 }), (seed, looked) => {
        const scenario = readScenario({ seed });
        const once = new Map(looked.map((piece) => [piece, trueOhms(scenario, piece)]));
        for (const piece of looked.toReversed()) expect(trueOhms(readScenario({ seed }), piece)).toBe(once.get(piece));
      }),
    );
  });

  it('has the mean, the spread and the odd pieces its scenario says', () => {
    const count = 20_000;
    const lot = { nominalOhms: 1000, meanOffsetPercent: 1, spreadPercent: 0.5, shareOpen: 0.01, shareWrong: 0.02 };
    const scenario = readScenario({ seed: 8, lot: { ...lot, wrongOhms: 10_000 } });
    const values = pieces(count).map((piece) => trueOhms(scenario, piece));
    const share = (found: number, expected: number) =>
      expect(Math.abs(found / count - expected)).toBeLessThan(4 * Math.sqrt((expected * (1 - expected)) / count));
    share(values.filter((value) => value === null).length, 0.01);
    share(values.filter((value) => value !== null && value > 5000).length, 0.02);
    const good = values.filter((value): value is number => value !== null && value < 5000);
    expect(Math.abs(mean(good) - 1010)).toBeLessThan((4 * 5.05) / Math.sqrt(good.length));
    expect(Math.abs(deviation(good) - 5.05)).toBeLessThan((4 * 5.05) / Math.sqrt(2 * good.length));
  });

  it('is mostly good for any part, and sometimes poor', () => {
    const lots = pieces(300).map((seed) => {
      const scenario = readScenario(scenarioForPart({ seed, nominalOhms: 4700, lowerOhms: 4653, upperOhms: 4747 }));
      const out = pieces(80).filter((piece) => {
        const ohms = trueOhms(scenario, piece);
        return ohms === null || ohms < 4653 || ohms > 4747;
      });
      return out.length;
    });
    // ANSI Z1.4 code J, AQL 0.65: 80 pieces, Ac 1.
    const accepted = lots.filter((out) => out <= 1).length / lots.length;
    expect(accepted).toBeGreaterThan(0.7);
    expect(accepted).toBeLessThan(0.95);
  });

  it('fits parts without nominal value, with one limit and of zero ohms', () => {
    const parts = [
      { nominalOhms: null, lowerOhms: 4600, upperOhms: 4800 },
      { nominalOhms: 0, lowerOhms: null, upperOhms: 0.05 },
      { nominalOhms: null, lowerOhms: 1e6, upperOhms: null },
      { nominalOhms: 8.2, lowerOhms: 7.79, upperOhms: 8.61 },
    ];
    for (const part of parts) {
      const inside = pieces(200).filter((seed) => {
        const ohms = trueOhms(readScenario(scenarioForPart({ ...part, seed })), 1);
        return ohms !== null && ohms >= (part.lowerOhms ?? 0) && ohms <= (part.upperOhms ?? Infinity);
      });
      expect(inside.length).toBeGreaterThan(160);
    }
  });
});

describe('the meter on the simulated bench', () => {
  const scenario = readScenario({
    seed: 2,
    leadOhms: 0.5,
    ...exactBench(100),
    meter: { noisePpmOfRange: 2, pace: 'none' },
  });

  it('reads the leads in 2-wire and not in 4-wire', () => {
    const twoWire = new MeterModel(scenario).read(1, 'RES', 100, 10);
    const fourWire = new MeterModel(scenario).read(1, 'FRES', 100, 10);
    expect(twoWire - fourWire).toBeCloseTo(0.5, 6);
    expect(new MeterModel(scenario).read('SHOR', 'RES', 100, 10)).toBeCloseTo(0.5, 2);
  });

  it('overloads above 1.2 times the range, and auto-ranges below', () => {
    const at = (nominalOhms: number) =>
      new MeterModel(readScenario({ ...scenario, leadOhms: 0, lot: { ...scenario.lot, nominalOhms } }));
    expect(at(119.9).read(1, 'RES', 100, 10)).toBeCloseTo(119.9, 1);
    expect(at(120.1).read(1, 'RES', 100, 10)).toBe(OVERLOAD);
    expect(at(119.9).autoRange(1, 'RES')).toBe(100);
    expect(at(120.1).autoRange(1, 'RES')).toBe(1000);
    expect(at(120.1).autoRange('OPEN', 'RES')).toBe(1e8);
  });

  it('is quieter with longer integration, by its square root', () => {
    const noise = (cycles: number) => {
      const meter = new MeterModel(scenario);
      return deviation(pieces(4000).map(() => meter.read(1, 'FRES', 100, cycles)));
    };
    // 2 ppm of 100 Ω at 1 cycle; resolution adds at most step/sqrt(12).
    expect(noise(1) / 200e-6).toBeCloseTo(1, 1);
    expect(noise(1) / noise(100)).toBeGreaterThan(8);
    expect(noise(1) / noise(100)).toBeLessThan(12);
  });

  it('gives the same reading for the same seed, piece and turn, whatever else was read', () => {
    const straight = new MeterModel(scenario);
    const wanted = [straight.read(5, 'RES', 1000, 1), straight.read(5, 'RES', 1000, 1)];
    const wandering = new MeterModel(scenario);
    wandering.read(9, 'RES', 1000, 1);
    const first = wandering.read(5, 'RES', 1000, 1);
    wandering.read('SHOR', 'RES', 1000, 1);
    expect([first, wandering.read(5, 'RES', 1000, 1)]).toEqual(wanted);
  });
});

describe('a reel that fits a part', () => {
  it.each([
    ['0 Ω with a tolerance in ohms', { nominalOhms: 0, lowerOhms: -0.02, upperOhms: 0.02 }],
    ['0 Ω with an upper limit', { nominalOhms: 0, lowerOhms: null, upperOhms: 0.05 }],
    ['limits only', { nominalOhms: null, lowerOhms: 4600, upperOhms: 4800 }],
    ['a lower limit only', { nominalOhms: null, lowerOhms: 1e6, upperOhms: null }],
    ['a value whose window begins at 0', { nominalOhms: 10, lowerOhms: 0, upperOhms: 20 }],
  ])('can be laid on the bench: %s', (_part, part) => {
    const scenario = readScenario(scenarioForPart({ seed: 3, ...part }));
    const values = Array.from({ length: 50 }, (_, index) => trueOhms(scenario, index + 1)).filter(
      (ohms) => ohms !== null,
    );
    const inside = values.filter((ohms) => ohms >= (part.lowerOhms ?? 0) && ohms <= (part.upperOhms ?? Infinity));
    expect(inside.length).toBeGreaterThan(35);
  });
});
