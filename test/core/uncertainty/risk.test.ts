import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conformanceProbability,
  degreesOfFreedomOf,
  GUARD_FACTORS,
  globalRisks,
  probabilityWrong,
  standardOhms,
} from '../../../core/uncertainty/risk.ts';

describe('probability that one piece conforms', () => {
  // JCGM 106:2012, Table 1 (from memory, recomputed).
  it.each([
    [0.8416, 0.8],
    [1.2816, 0.9],
    [1.6449, 0.95],
    [2.3263, 0.99],
    [3.0902, 0.999],
  ])('JCGM 106, Table 1: one limit, z = %f', (z, probability) => {
    const upper = { lower: null, upper: '0' };
    expect(conformanceProbability(String(-z), 1, upper)).toBeCloseTo(probability, 4);
    expect(conformanceProbability(String(z), 1, { lower: '0', upper: null })).toBeCloseTo(probability, 4);
  });

  it('JCGM 106, zener diode: breakdown at -5.47 V, u 0.05 V, limit -5.40 V: 0.92 (from memory, recomputed)', () => {
    expect(conformanceProbability('-5.47', 0.05, { lower: null, upper: '-5.40' })).toBeCloseTo(0.91924, 5);
  });

  it('JCGM 106, motor oil: 13.6, u 1.8, window 12.5 to 16.3: 0.66 (from memory, recomputed)', () => {
    const window = { lower: '12.5', upper: '16.3' };
    expect(conformanceProbability('13.6', 1.8, window)).toBeCloseTo(0.66263, 5);
    expect(probabilityWrong(true, '13.6', 1.8, window)).toBeCloseTo(1 - 0.66263, 5);
    expect(probabilityWrong(false, '13.6', 1.8, window)).toBeCloseTo(0.66263, 5);
  });

  // ILAC-G8:09/2019, Table 1, one limit and k 2 (from memory, recomputed); w is what the value is inside by.
  it.each([
    ['0', 0.5, 0.5],
    ['0.83', 0.0485, 0.05],
    ['1', 0.02275, 0.025],
    ['1.5', 0.00135, 0.0016],
    ['3', 1e-9, 1e-6],
  ])('ILAC-G8, Table 1: guard band of %s U', (factor, probability, below) => {
    const wrong = probabilityWrong(true, String(-2 * Number(factor)), 1, { lower: null, upper: '0' });
    expect(wrong).toBeCloseTo(probability, 4);
    expect(wrong).toBeLessThanOrEqual(below);
    expect(GUARD_FACTORS.map((one) => one.factor)).toContain(factor);
  });

  it('ISO 14253-1:2017: 95 % needs 1.645 u (from memory, recomputed)', () => {
    expect(conformanceProbability('-1.645', 1, { lower: null, upper: '0' })).toBeCloseTo(0.95, 4);
  });

  it('both tails count where the window is narrow', () => {
    const window = { lower: '-1', upper: '1' };
    expect(probabilityWrong(true, '0', 1, window)).toBeCloseTo(2 * 0.158655, 5);
    expect(probabilityWrong(true, '1', 1, window)).toBeGreaterThan(0.5);
  });

  it('keeps its figures far out, on either side', () => {
    // Normal tail at 10 standard deviations: 7.6199e-24 (Abramowitz and Stegun, Table 26.2).
    expect(probabilityWrong(true, '10', 1, { lower: '0', upper: null }) / 7.6199e-24).toBeCloseTo(1, 4);
    expect(probabilityWrong(false, '-10', 1, { lower: '0', upper: '9' }) / 7.6199e-24).toBeCloseTo(1, 4);
    expect(probabilityWrong(false, '19', 1, { lower: '0', upper: '9' }) / 7.6199e-24).toBeCloseTo(1, 4);
  });

  it('without uncertainty it is certain, a value on a limit being inside', () => {
    const window = { lower: '99', upper: '101' };
    expect(conformanceProbability('101', 0, window)).toBe(1);
    expect(conformanceProbability('101.0001', 0, window)).toBe(0);
    expect(probabilityWrong(true, '100', 0, window)).toBe(0);
    expect(probabilityWrong(false, '102', 0, window)).toBe(0);
  });

  it('takes u from U and k', () => {
    expect(standardOhms({ expandedOhms: '0.020', coverageFactor: '2.00' })).toBe(0.01);
  });

  it('refuses what is no spread', () => {
    expect(() => conformanceProbability('1', Number.NaN, { lower: '0', upper: null })).toThrow('figure-not-finite');
    expect(() => conformanceProbability('1', -1, { lower: '0', upper: null })).toThrow('figure-not-finite');
  });
});

describe('risks of a lot', () => {
  const resistors = { mean: 1500, spread: 0.12, measuring: 0.04 };
  const window = { lower: '1499.8', upper: '1500.2' };

  // JCGM 106, precision resistors: the process is from memory, the risks are computed only (see check-values 8.2).
  it.each([
    [0, 0.018942, 0.037208],
    [0.01, 0.013962, 0.051458],
    [0.02, 0.009878, 0.069027],
    [0.04, 0.004334, 0.114657],
    [0.08, 0.000469, 0.24767],
  ])('JCGM 106, precision resistors, guard band %f ohm', (guard, consumer, producer) => {
    const risks = globalRisks({ ...resistors, guard }, window);
    expect(risks.conforming).toBeCloseTo(0.904419, 6);
    expect(risks.consumer).toBeCloseTo(consumer, 6);
    expect(risks.producer).toBeCloseTo(producer, 6);
  });

  it('one limit at the mean: the quadrant of a bivariate normal (Sheppard 1899), for any ratio of the spreads', () => {
    for (const measuring of [1e-9, 1e-6, 1e-3, 0.1, 1, 10, 1e3, 1e6]) {
      const correlation = 1 / Math.hypot(1, measuring);
      // Of two standard normal variables, one above 0 and the other below.
      const quadrant = Math.atan2(measuring * correlation, correlation) / (2 * Math.PI);
      const risks = globalRisks({ mean: 0, spread: 1, measuring, guard: 0 }, { lower: null, upper: '0' });
      expect(Math.abs(risks.consumer - quadrant)).toBeLessThan(1e-12);
      expect(Math.abs(risks.producer - quadrant)).toBeLessThan(1e-12);
    }
  });

  it('good less rejected good plus accepted bad is what is accepted', () => {
    const size = fc.integer({ min: -60, max: 60 }).map((power) => 10 ** (power / 10));
    fc.assert(
      fc.property(
        size,
        size,
        fc.integer({ min: -40, max: 40 }),
        fc.integer({ min: -9, max: 9 }),
        (spread, measuring, off, guardTenths) => {
          const mean = 1000 + off / 10;
          const guard = guardTenths / 10;
          const limits = { lower: '999', upper: '1001' };
          const risks = globalRisks({ mean, spread, measuring, guard }, limits);
          const both = Math.hypot(spread, measuring);
          const accepted = conformanceProbability(String(mean), both, {
            lower: String(999 + guard),
            upper: String(1001 - guard),
          });
          // What doubles lose of limits near 1000 Ω counts the more the smaller the spread.
          const lost = 1e-12 / both;
          expect(Math.abs(risks.conforming - risks.producer + risks.consumer - accepted)).toBeLessThan(1e-9 + lost);
          expect(risks.consumer).toBeGreaterThanOrEqual(0);
          expect(risks.producer).toBeGreaterThanOrEqual(0);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('without errors of measuring, only guard bands reject good pieces', () => {
    const none = globalRisks({ ...resistors, measuring: 0, guard: 0 }, window);
    expect(none.consumer).toBe(0);
    expect(none.producer).toBe(0);
    const guarded = globalRisks({ ...resistors, measuring: 0, guard: 0.08 }, window);
    expect(guarded.consumer).toBe(0);
    // 0.12 is one standard deviation: all between it and the limit.
    expect(guarded.producer).toBeCloseTo(0.904419 - 0.682689, 6);
  });

  it('a process that makes one value only', () => {
    const inside = globalRisks({ mean: 1500, spread: 0, measuring: 0.2, guard: 0 }, window);
    expect(inside.consumer).toBe(0);
    expect(inside.producer).toBeCloseTo(2 * 0.158655, 5);
    const outside = globalRisks({ mean: 1500.2 + 0.04, spread: 0, measuring: 0.04, guard: 0 }, window);
    expect(outside.consumer).toBeCloseTo(0.158655, 5);
    expect(outside.producer).toBe(0);
    const still = globalRisks({ mean: 1500, spread: 0, measuring: 0, guard: 0 }, window);
    expect([still.consumer, still.producer, still.conforming]).toEqual([0, 0, 1]);
  });

  it('guard bands that meet accept nothing', () => {
    const risks = globalRisks({ ...resistors, guard: 0.3 }, window);
    expect(risks.consumer).toBe(0);
    expect(risks.producer).toBe(risks.conforming);
  });

  it('refuses what is no process', () => {
    expect(() => globalRisks({ ...resistors, mean: Number.NaN, guard: 0 }, window)).toThrow('figure-not-finite');
    expect(() => globalRisks({ ...resistors, guard: Number.POSITIVE_INFINITY }, window)).toThrow('figure-not-finite');
    expect(() => globalRisks({ ...resistors, spread: -1, guard: 0 }, window)).toThrow('figure-not-finite');
  });
});

describe('few degrees of freedom', () => {
  it('are told from the coverage factor (JCGM 100:2008, Table G.2, 95.45 %, from memory)', () => {
    const known: [k: string, degrees: number | null][] = [
      ['13.97', 1],
      ['4.53', 2],
      ['2.65', 5],
      ['2.28', 10],
      ['2.13', 20],
      ['2.00', null],
    ];
    for (const [coverageFactor, degrees] of known) expect(degreesOfFreedomOf({ coverageFactor })).toBe(degrees);
  });

  it('make a verdict at a guard band of 1 U wrong as often as one of many does: one tail of 95.45 %', () => {
    for (const [k, degrees] of [
      [13.97, 1],
      [2.87, 4],
      [2, null],
    ] as const) {
      const wrong = probabilityWrong(true, String(-k), 1, { lower: null, upper: '0' }, degrees);
      expect(wrong).toBeCloseTo((1 - 0.9545) / 2, 3);
    }
  });
});
