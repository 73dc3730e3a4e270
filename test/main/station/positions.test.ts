import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { nextPosition } from '../../../core/inspection/run.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { checkBench, readyBench, runOf } from '../../readyBench.ts';

const PLAN = { sampleSize: 6, accept: 5 };

describe('positions along the reel at the station', () => {
  it('are drawn with a seed of their own for each lot, unless it brings one', async () => {
    const station = openedStation();
    const seedOf = async (positions: { kind: 'random'; seed?: number }) => {
      const { run } = await station.ask('receive-lot', { claim: { ...exampleLot(), positions } });
      const { positions: chosen } = await runOf(station, run);
      return chosen.kind === 'random' ? chosen.seed : null;
    };
    const seeds = [
      await seedOf({ kind: 'random' }),
      await seedOf({ kind: 'random' }),
      await seedOf({ kind: 'random' }),
    ];
    // Three of four thousand million.
    expect(new Set(seeds).size).toBe(3);
    expect(await seedOf({ kind: 'random', seed: 12 })).toBe(12);
  });

  it('are those the simulated bench has its pieces from, said ones too, and stand on the certificate', async () => {
    const station = openedStation();
    const claim = { ...exampleLot(PLAN), positions: { kind: 'random', seed: 12 } } as const;
    const { run } = await station.ask('receive-lot', { claim });
    await readyBench(station, run);
    const asked = nextPosition(await runOf(station, run)) as number;
    await station.ask('take-reading', { run });
    expect(await problemOf(station.ask('say-position', { run, position: asked }))).toBe('position-taken');
    expect(await problemOf(station.ask('say-position', { run, position: 1e6 }))).toBe('position-outside');
    await station.ask('say-position', { run, position: asked + 1 });
    await station.ask('take-reading', { run });
    const { readings } = await runOf(station, run);
    expect(readings.map(({ position }) => position).toArray()).toEqual([asked, asked + 1]);

    // The same piece of the same reel, wherever it comes in the sample.
    const other = await station.ask('receive-lot', { claim });
    await readyBench(station, other.run);
    await station.ask('say-position', { run: other.run, position: asked + 1 });
    await station.ask('take-reading', { run: other.run });
    const [again, first] = [(await runOf(station, other.run)).readings.get(0), readings.get(1)];
    const apart = Math.abs(Number(again?.ohms) - Number(first?.ohms));
    const between = Math.abs(Number(readings.get(0)?.ohms) - Number(first?.ohms));
    expect(apart).toBeLessThan(between / 10);
  });

  it('follow the whole way to a certificate that verifies', async () => {
    const station = openedStation();
    const claim = { ...exampleLot(PLAN), positions: { kind: 'spread' } } as const;
    const { run } = await station.ask('receive-lot', { claim });
    await readyBench(station, run);
    for (let piece = 0; piece < PLAN.sampleSize; piece++) await station.ask('take-reading', { run });
    await checkBench(station, run);
    await station.ask('decide-lot', { run, disposition: 'accepted', by: 'Ines Okoro' });
    const { file } = await station.ask('write-certificate', { run });
    expect(verifyCertificate(readFileSync(file)).checked.join(' ')).toContain('beginning, middle and end');
  });
});
