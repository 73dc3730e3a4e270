import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { takenElsewhere } from '../../../core/inspection/positionTaken.ts';
import { nextPiece, nextPosition } from '../../../core/inspection/run.ts';
import { positionOf } from '../../../core/sampling/positions.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { checkBench, readyBench, runOf } from '../../readyBench.ts';
import { atQuickBench, quickLot, wrongOnes } from './capturing.ts';

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
    expect(readings.slice().map(({ position }) => position)).toEqual([asked, asked + 1]);

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

  describe('during hands-free capture', () => {
    const lot = (size = 12) => quickLot(size, { positions: { kind: 'random', seed: 5 } });

    it('may be said whatever is on the probes: the next piece that counts is the one from there', async () => {
      const { station, bench, run, start, outcome, off } = await atQuickBench({}, lot());
      const ended = off();
      await start();
      const said = new Map<number, number>();
      // In the air, while a contact settles, and while a piece that has counted is still held.
      for (const when of ['released', 'contact', 'captured', 'contact', 'released'] as const) {
        await outcome(when);
        const now = await runOf(station, run);
        const piece = nextPiece(now);
        const position = (nextPosition(now) as number) + 1;
        await station.ask('say-position', { run, position, piece });
        said.set(piece, position);
        // So many are said of one piece where it has not been counted since.
        expect(nextPosition(await runOf(station, run))).toBe(position);
      }
      expect(await ended).toMatchObject({ why: { code: 'sample-complete' } });
      const done = await runOf(station, run);
      for (const { piece, position } of done.readings) {
        expect([piece, position]).toEqual([piece, said.get(piece) ?? positionOf(done, piece)]);
      }
      expect(said.size).toBeGreaterThan(2);
      // Every value is that of the piece which lies at its position on the reel of the bench.
      expect(wrongOnes(done, bench)).toEqual([]);
    });

    it('is refused for a piece that was counted while it was being said, and nothing is noted', async () => {
      const { station, bench, run, start, outcome, off } = await atQuickBench({}, lot());
      const ended = off();
      await start();
      await outcome('captured');
      const refused = station.ask('say-position', { run, position: 17, piece: 1 });
      expect(await problemOf(refused)).toBe('position-of-another-piece');
      await ended;
      const done = await runOf(station, run);
      expect(takenElsewhere(done)).toBe(0);
      expect(wrongOnes(done, bench)).toEqual([]);
    });

    it('stays where it was said when its reading is void, and when a piece before it is', async () => {
      const { station, bench, run, start, outcome, off } = await atQuickBench({}, lot());
      const ended = off();
      const voidOf = (reading: number) =>
        station.ask('void-reading', { run, reading, by: 'Ines Okoro', reason: 'It was the wrong piece' });
      await start();
      await outcome('released');
      const first = await runOf(station, run);
      const [piece, position] = [nextPiece(first), (nextPosition(first) as number) + 1];
      await station.ask('say-position', { run, position, piece });
      await voidOf(first.readings.last()?.reading as number);
      expect(nextPiece(await runOf(station, run))).toBe(piece - 1);
      await outcome('captured');
      await outcome('captured');
      const taken = (await runOf(station, run)).readings.last();
      expect(taken).toMatchObject({ piece, position });
      await voidOf(taken?.reading as number);
      expect(nextPosition(await runOf(station, run))).toBe(position);
      await ended;
      const done = await runOf(station, run);
      expect(done.readings.slice().filter((reading) => reading.piece === piece)).toMatchObject([
        { position, voided: { reason: 'It was the wrong piece' } },
        { position, voided: null },
      ]);
      expect(takenElsewhere(done)).toBe(1);
      expect(wrongOnes(done, bench)).toEqual([]);
    });
  });
});
