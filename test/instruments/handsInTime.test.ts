import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { exactBench } from './exactBench.ts';

const OVERLOAD = 9.9e37;

function benchWith(scenario: BenchScenarioInput = {}): Bench {
  const exact = exactBench(4700);
  return new Bench(readScenario({ seed: 3, ...exact, leadOhms: 0.1, meter: { pace: 'none' }, ...scenario }));
}

/** Readings until so many milliseconds of the bench's clock have passed. */
async function readFor(bench: Bench, milliseconds: number): Promise<{ at: number; ohms: number; piece: number }[]> {
  const readings: { at: number; ohms: number; piece: number }[] = [];
  while (bench.clock.now() < milliseconds) {
    const { value } = await bench.read();
    readings.push({ at: bench.clock.now(), ohms: value, piece: bench.hands.piece });
  }
  return readings;
}

async function at1Cycle(bench: Bench, range: number): Promise<void> {
  await execute(bench, `CONF:RES ${range};:RES:NPLC 1`);
}

describe('hands that go on by themselves', () => {
  it('put two pieces a second on the probes, each for long enough to be read and each away for long enough', async () => {
    const bench = benchWith({ hands: { shareSlips: 0 } });
    await at1Cycle(bench, 10_000);
    await execute(bench, 'BENC:HAND AUTO,1,2');
    const readings = await readFor(bench, 30_000);
    const good = readings.filter(({ ohms }) => Math.abs(ohms - 4700.1) < 0.5);
    const open = readings.filter(({ ohms }) => ohms === OVERLOAD);
    const pieces = new Set(good.map(({ piece }) => piece));
    expect(pieces.size).toBeGreaterThan(55);
    expect(pieces.size).toBeLessThanOrEqual(60);
    expect([...pieces]).toEqual(Array.from(pieces, (_, index) => index + 1));
    // The last one may still be held.
    pieces.delete(pieces.size);
    for (const piece of pieces) {
      expect(good.filter((each) => each.piece === piece).length).toBeGreaterThanOrEqual(4);
      expect(open.filter((each) => each.piece === piece).length).toBeGreaterThanOrEqual(4);
    }
    // Contact that comes or goes in the middle of a reading gives one that is neither.
    expect(readings.length - good.length - open.length).toBeGreaterThan(10);
  });

  it('slip now and then, for a moment, and hold the piece for longer then', async () => {
    const held = async (shareSlips: number) => {
      const bench = benchWith({ hands: { shareSlips } });
      await at1Cycle(bench, 10_000);
      await execute(bench, 'BENC:HAND AUTO,1,2');
      const readings = await readFor(bench, 20_000);
      return readings.filter(({ piece, ohms }) => piece === 5 && ohms < 5000).length;
    };
    expect(await held(1)).toBeGreaterThan(await held(0));
  });

  it('hold a piece of a high value until it has settled: what is shown falls towards it', async () => {
    const bench = benchWith({ ...exactBench(1e8), hands: { shareSlips: 0 } });
    await at1Cycle(bench, 1e8);
    await execute(bench, 'BENC:HAND AUTO,1,2');
    const shown = (await readFor(bench, 4000)).filter(({ piece, ohms }) => piece === 1 && ohms < OVERLOAD);
    const ohms = shown.map((each) => each.ohms);
    expect(ohms.length).toBeGreaterThan(10);
    expect((ohms[0] ?? 0) / 1e8).toBeGreaterThan(1.01);
    // 100 MΩ with 1 nF: 100 ms. Noise at 1 cycle is 2 ppm of the range.
    for (const [index, value] of ohms.slice(1, -1).entries()) expect(value).toBeLessThan((ohms[index] ?? 0) + 2000);
    expect(Math.min(...ohms) / 1e8).toBeCloseTo(1, 4);
  });

  it('say by two taps of the tips that a piece is open, and hold it once more', async () => {
    const bench = benchWith({ lot: { ...exactBench(4700).lot, shareOpen: 1 } });
    await at1Cycle(bench, 10_000);
    await execute(bench, 'BENC:HAND AUTO,1,2');
    const readings = await readFor(bench, 9000);
    const isTap = (index: number) => (readings[index]?.ohms ?? OVERLOAD) < 1;
    const begins = readings.flatMap(({ at }, index) => (isTap(index) && !isTap(index - 1) ? [at] : []));
    const [first = 0, second = 0, ...more] = begins;
    expect(first).toBeGreaterThan(4000);
    expect(second - first).toBeLessThan(1500);
    expect(more).toEqual([]);
    expect(readings.every(({ at, ohms, piece }) => piece > 1 || at < second + 200 || ohms === OVERLOAD)).toBe(true);
  });

  it('take the piece they are told to, and go on behind it', async () => {
    const bench = benchWith();
    await at1Cycle(bench, 10_000);
    await execute(bench, 'BENC:HAND AUTO,40,2');
    await readFor(bench, 600);
    expect(bench.hands.piece).toBe(40);
    await execute(bench, 'BENC:HAND:NEXT 1204');
    await readFor(bench, 1600);
    expect(bench.hands.piece).toBe(1205);
    await execute(bench, 'BENC:PLAC 7');
    expect(await execute(bench, 'BENC:HAND?;:BENC:PLAC?')).toBe('REST;7');
  });

  it('do the same for the same seed, and another thing for another', async () => {
    const shown = async (seed: number) => {
      const bench = benchWith({ seed });
      await at1Cycle(bench, 10_000);
      await execute(bench, 'BENC:HAND AUTO,1,2');
      return (await readFor(bench, 8000)).map(({ ohms }) => ohms);
    };
    const first = await shown(11);
    expect(await shown(11)).toEqual(first);
    expect(await shown(12)).not.toEqual(first);
  });

  it('read the pieces that lie there, with the leads in 2-wire', async () => {
    const bench = new Bench(readScenario({ seed: 9, leadOhms: 0.1, contactSpreadOhms: 0, meter: { pace: 'none' } }));
    await at1Cycle(bench, 10_000);
    await execute(bench, 'BENC:HAND AUTO,1,2');
    const readings = await readFor(bench, 10_000);
    for (const piece of [1, 2, 3, 4, 5, 6]) {
      const ohms = trueOhms(bench.scenario, piece) ?? 0;
      // Pieces have their value at 20 °C; at 23 °C a good 150 ppm are added.
      const near = readings.filter((each) => each.piece === piece && Math.abs(each.ohms / ohms - 1) < 5e-4);
      expect(near.length).toBeGreaterThanOrEqual(4);
    }
  });

  it('tap the tips about once a second', async () => {
    const bench = benchWith();
    await at1Cycle(bench, 100);
    await execute(bench, 'BENC:HAND TAP');
    expect(await execute(bench, 'BENC:HAND?')).toBe('TAP');
    const readings = await readFor(bench, 8000);
    const closed = readings.map(({ ohms }) => ohms < 10);
    const changes = closed.filter((each, index) => index > 0 && each && !closed[index - 1]).length;
    expect(changes).toBeGreaterThanOrEqual(9);
    expect(changes).toBeLessThanOrEqual(10);
    await execute(bench, 'BENC:HAND REST');
    expect(await execute(bench, 'BENC:HAND?;:BENC:PLAC?')).toBe('REST;OPEN');
  });

  it('are refused what they cannot do', async () => {
    const bench = benchWith();
    await execute(bench, '*CLS');
    for (const command of [
      'BENC:HAND',
      'BENC:HAND DANCE',
      'BENC:HAND TAP,1',
      'BENC:HAND AUTO,0',
      'BENC:HAND AUTO,1,99',
    ]) {
      await execute(bench, command);
    }
    await execute(bench, 'BENC:HAND:NEXT OPEN');
    expect(bench.status.errorCount).toBe(6);
    expect(bench.hands.work).toBe('rest');
  });
});
