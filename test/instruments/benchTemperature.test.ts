import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { RANGES_OHMS } from '../../instruments/bench/functions.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { ohmsWarmer, tcrOf } from '../../instruments/bench/temperature.ts';
import { testCurrent, testPower } from '../../instruments/bench/testCurrent.ts';
import { exactBench } from './exactBench.ts';

/** Pieces of exactly 10 kΩ at 20 °C and 100 ppm/K, in 4-wire on the 10 kΩ range without noise. */
function benchOf({ lot, ...more }: BenchScenarioInput = {}) {
  const { lot: exact, ...bench } = exactBench(10_000);
  const scenario = readScenario({
    ...bench,
    lot: { ...exact, tcrPpmPerKelvin: 100, kelvinsPerWatt: 0, ...lot },
    referenceOhms: 10_000,
    referenceUncertaintyPpm: 0,
    ...more,
    meter: { noisePpmOfRange: 0, pace: 'none' },
  });
  const reads = async (place: string | number, range: number, celsius: number) =>
    Number(
      await execute(
        new Bench({ ...scenario, ambientCelsius: celsius }),
        `BENC:PLAC ${place};:CONF:FRES ${range};:READ?`,
      ),
    );
  return { scenario, reads };
}

describe('the temperature of the air', () => {
  // R = R20 (1 + α (T − 20 °C)), the linear definition of the temperature coefficient in IEC 60115-1; by hand.
  it.each([
    [20, 10_000],
    [23, 10_003],
    [25, 10_005],
    [70, 10_050],
    [-10, 9970],
  ])('of %d °C makes 10 kΩ of 100 ppm/K read %d Ω', async (celsius, ohms) => {
    const { reads } = benchOf();
    expect(await reads(1, 10_000, celsius)).toBeCloseTo(ohms, 2);
    expect(await reads('FIXT', 10_000, celsius)).toBeCloseTo(ohms, 2);
  });

  it('moves each piece by its own coefficient, about the mean of the lot', () => {
    const { scenario } = benchOf({ lot: { tcrPpmPerKelvin: 50, tcrSpreadPpmPerKelvin: 5 } });
    const found = Array.from({ length: 4000 }, (_, index) => tcrOf(scenario, index + 1));
    const mean = found.reduce((sum, tcr) => sum + tcr, 0) / found.length;
    const spread = Math.sqrt(found.reduce((sum, tcr) => sum + (tcr - mean) ** 2, 0) / (found.length - 1));
    expect(Math.abs(mean - 50)).toBeLessThan((4 * 5) / Math.sqrt(4000));
    expect(Math.abs(spread - 5)).toBeLessThan((4 * 5) / Math.sqrt(2 * 4000));
  });

  it('moves the reference by its own coefficient, from the 23 °C it was calibrated at', async () => {
    const { reads } = benchOf({ referenceTcrPpmPerKelvin: 5 });
    expect(await reads('REF', 10_000, 23)).toBe(10_000);
    // 10 kelvins of 5 ppm of 10 kΩ are 0.5 Ω.
    expect(await reads('REF', 10_000, 33)).toBeCloseTo(10_000.5, 2);
    expect(await reads('REF', 10_000, 13)).toBeCloseTo(9999.5, 2);
  });

  it('never makes a resistance negative', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e9, noNaN: true }),
        fc.double({ min: -10_000, max: 10_000, noNaN: true }),
        fc.double({ min: -60, max: 500, noNaN: true }),
        (ohms, tcr, kelvins) => {
          expect(ohmsWarmer(ohms, tcr, kelvins)).toBeGreaterThanOrEqual(0);
        },
      ),
    );
  });
});

describe('the test current', () => {
  it('falls with the range and never makes more than a volt at full scale', () => {
    for (const [index, range] of RANGES_OHMS.entries()) {
      expect(testCurrent(range) * range).toBeLessThanOrEqual(1);
      expect(testCurrent(range)).toBeLessThanOrEqual(testCurrent(RANGES_OHMS[index - 1] ?? range));
    }
    expect(RANGES_OHMS.map(testCurrent)).toEqual([1e-3, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8]);
  });

  // P = I²R: 1 mA through 1 kΩ are 1 mW, 0.1 mA through 10 kΩ 0.1 mW. Far above the range no more than 1.2 V: V²/R.
  it.each([
    [1000, 1000, 1e-3],
    [100, 1000, 1e-4],
    [10_000, 10_000, 1e-4],
    [1_000_000, 1000, 1.44e-6],
    [0, 1000, 0],
  ])('makes of %d Ω on the %d Ω range %d W of heat', (ohms, range, watts) => {
    expect(testPower(ohms, range)).toBeCloseTo(watts, 12);
  });

  it('warms a piece by its power times the thermal resistance', async () => {
    // 1 mA through 1 kΩ: 1 mW, at 2000 K/W 2 K, at 100 ppm/K 200 ppm, 0.2 Ω. On the 10 kΩ range a hundredth of it.
    const { reads } = benchOf({ lot: { nominalOhms: 1000, kelvinsPerWatt: 2000 } });
    expect(await reads(1, 1000, 20)).toBeCloseTo(1000.2, 3);
    expect(await reads(1, 10_000, 20)).toBeCloseTo(1000.002, 3);
    // With the air 5 K warmer: 1000.5 Ω, 1.0005 mW, 2.001 K; 7.001 K of 100 ppm.
    expect(await reads(1, 1000, 25)).toBeCloseTo(1000.7001, 3);
    expect(await reads('SHOR', 1000, 20)).toBe(0);
  });

  it('does not hide a piece above the range by warming it, whatever its coefficient', async () => {
    const { reads } = benchOf({ lot: { nominalOhms: 1e8, tcrPpmPerKelvin: -10_000, kelvinsPerWatt: 10_000 } });
    for (const range of RANGES_OHMS.slice(0, -1)) expect(await reads(1, range, 20)).toBe(9.9e37);
  });
});
