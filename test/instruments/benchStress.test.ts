import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { changePpm, STRESS_NAMES } from '../../instruments/bench/stress.ts';
import { connectMeter } from '../../instruments/meter/connect.ts';
import { exactBench } from './exactBench.ts';

const PIECES = Array.from({ length: 30 }, (_, index) => index + 1);
const { lot, ...bench } = exactBench(4700);
/** 4.7 kΩ that spread as a reel does; no temperature, no noise: what changes is the treatment. */
const SCENARIO: BenchScenarioInput = {
  ...bench,
  seed: 21,
  lot: { ...lot, spreadPercent: 0.3 },
  meter: { noisePpmOfRange: 0, pace: 'none' },
};

async function readings(tested: Bench): Promise<number[]> {
  const found: number[] = [];
  for (const piece of PIECES) {
    found.push(Number(await execute(tested, `BENC:PLAC ${piece};:CONF:FRES 10000;:READ?`)));
  }
  return found;
}

describe('a treatment of the pieces', () => {
  it('changes each piece by its own share, and only that', async () => {
    const tested = new Bench(readScenario(SCENARIO));
    const before = await readings(tested);
    for (const stress of STRESS_NAMES) {
      await execute(tested, `BENC:STR ${stress}`);
      expect(await execute(tested, 'BENC:STR?')).toBe(stress.toUpperCase());
      const after = await readings(tested);
      for (const [index, ohms] of after.entries()) {
        const changed = (ohms / (before[index] ?? Number.NaN) - 1) * 1e6;
        // Two readings of the 1 mΩ display are half a digit off each: 0.2 ppm of 4.7 kΩ.
        expect(Math.abs(changed - changePpm(21, index + 1, stress))).toBeLessThan(0.4);
      }
    }
    await execute(tested, 'BENC:STR NONE');
    expect(await execute(tested, 'BENC:STR?')).toBe('NONE');
    expect(await readings(tested)).toEqual(before);
  });

  it('is not mended with the faults, nor by switching the meter off', async () => {
    const tested = new Bench(readScenario(SCENARIO));
    await execute(tested, 'BENC:STR LOAD;:BENC:FAUL NONE;:BENC:REST');
    expect(await execute(tested, 'BENC:STR?')).toBe('LOAD');
  });

  it('of an unknown kind is refused', async () => {
    const tested = new Bench(readScenario(SCENARIO));
    await execute(tested, '*CLS;:BENC:STR BATH');
    expect(await execute(tested, 'SYST:ERR?;:BENC:STR?')).toBe('-224,"Illegal parameter value;BATH";NONE');
  });

  it('finds most pieces steady within half a per cent and a weak one now and then', () => {
    const many = Array.from({ length: 4000 }, (_, index) => index + 1);
    for (const stress of STRESS_NAMES) {
      const beyond = many.filter((piece) => Math.abs(changePpm(5, piece, stress)) > 5000).length / many.length;
      expect(beyond).toBeLessThan(0.03);
    }
    const load = many.filter((piece) => Math.abs(changePpm(5, piece, 'load')) > 2000).length;
    // Two in a hundred are weak, and a few of those hardly change.
    expect(load / many.length).toBeGreaterThan(0.01);
    expect(load / many.length).toBeLessThan(0.03);
  });

  it('named by the address is that of the same pieces in another run', async () => {
    const read = async (address: string) => {
      const meter = await connectMeter(address, { random: Math.random, bench: SCENARIO, onLost: () => undefined });
      try {
        await meter.configure({ function: '4-wire', range: { coversOhms: '4800' }, integrationCycles: 10 });
        const found: number[] = [];
        for (const piece of PIECES.slice(0, 5)) {
          await meter.hands?.place(piece);
          const reading = await meter.read();
          found.push(reading.kind === 'value' ? Number(reading.ohms) : Number.NaN);
        }
        return found;
      } finally {
        await meter.close();
      }
    };
    const [before, after] = [await read('sim:8'), await read('sim:8?stressed=heat')];
    for (const [index, ohms] of before.entries()) {
      expect(ohms).toBeCloseTo(trueOhms(readScenario({ ...SCENARIO, seed: 8 }), index + 1) ?? Number.NaN, 2);
      expect((after[index] ?? Number.NaN) / ohms).toBeCloseTo(1 + changePpm(8, index + 1, 'heat') * 1e-6, 6);
    }
  });
});
