import { describe, expect, it, onTestFinished } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { atQuickBench, hearing, quickLot, wrongOnes } from '../main/station/capturing.ts';
import { openedStation } from '../openedStation.ts';
import { BY, checkBench, readyBench, runOf } from '../readyBench.ts';

/** Pieces of another value, ten times the nominal one and so above the range, and open ones; tips that slip. */
const LOT = { shareOpen: 0.015, shareWrong: 0.02 };
const HANDS = { piecesPerSecond: 2, shareSlips: 0.1 };

/** Which of the pieces up to this one are open, and which are of the wrong value. */
function oddOnes(scenario: Parameters<typeof trueOhms>[0], pieces: number) {
  const all = Array.from({ length: pieces }, (_, index) => trueOhms(scenario, index + 1));
  return { open: all.filter((ohms) => ohms === null).length, wrong: all.filter((ohms) => (ohms ?? 0) > 12_000).length };
}

describe('hands-free through the whole stack', () => {
  it.each([16, 17, 21])('counts each of 200 pieces at two a second once, with its value (seed %i)', async (seed) => {
    const bench = await atQuickBench({ seed, lot: LOT, hands: HANDS }, quickLot(200));
    const { station, run, start, off, heard, server } = bench;
    const odd = oddOnes(server.bench.scenario, 200);
    // Else the seed would show nothing of these.
    expect(odd.open).toBeGreaterThan(2);
    expect(odd.wrong).toBeGreaterThan(2);
    const ended = off();
    const began = bench.clock();
    await start();
    expect(await ended).toMatchObject({ why: { code: 'sample-complete' } });
    const done = await runOf(station, run);
    expect(done.tally.counted).toBe(200);
    expect(done.readings.size).toBe(200);
    expect(wrongOnes(done, server.bench)).toEqual([]);
    expect(done.readings.slice().filter(({ ohms, raw }) => ohms === null && /^\+9\.9/.test(raw)).length).toBe(odd.open);
    expect(heard.filter(({ outcome }) => outcome === 'captured')).toHaveLength(200);
    // At this pace a piece that reads like the one before is asked for again; nothing else went wrong.
    const troubles = heard.filter(({ outcome }) => outcome === 'trouble');
    expect(troubles.filter(({ troubleWords }) => !troubleWords?.includes('may be that piece'))).toEqual([]);
    expect(troubles.length).toBeLessThan(10);
    // By the bench's clock: two a second, and more time for slips and for pieces that show nothing at first.
    const seconds = (bench.clock() - began) / 1000;
    expect(seconds).toBeGreaterThan(100);
    expect(seconds).toBeLessThan(100 + 12 * odd.open + 5 * odd.wrong + 20);

    await checkBench(station, run);
    const disposition = (await station.ask('overview', {})).runs[0]?.outlook === 'accept' ? 'accepted' : 'not-accepted';
    await station.ask('decide-lot', { run, disposition, by: BY });
    const { file } = await station.ask('write-certificate', { run });
    const { text } = await station.ask('read-certificate', { run });
    expect(verifyCertificate(Buffer.from(text)), file).toMatchObject({ run, disposition });
  });

  it('counts each of 40 pieces at two a second once in real time, at the pace of a meter', async () => {
    const scenario = { seed: 21, lot: { shareOpen: 0, shareWrong: 0 }, hands: HANDS, meter: { pace: 'real' } } as const;
    const server = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario });
    onTestFinished(() => server.close());
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: quickLot(40) });
    await readyBench(station, run, server.address);
    const { off, heard } = hearing(station, () => performance.now());
    const ended = off();
    const began = performance.now();
    await station.ask('start-capture', { run });
    expect(await ended).toMatchObject({ why: { code: 'sample-complete' } });
    const seconds = (performance.now() - began) / 1000;
    expect(wrongOnes(await runOf(station, run), server.bench)).toEqual([]);
    const perPiece = [...Map.groupBy(heard, ({ piece }) => piece).values()].map((news) => {
      const contact = news.find(({ outcome }) => outcome === 'contact')?.at;
      const captured = news.find(({ outcome }) => outcome === 'captured')?.at;
      return contact === undefined || captured === undefined ? Number.NaN : captured - contact;
    });
    const sorted = perPiece.filter(Number.isFinite).sort((a, b) => a - b);
    console.log(
      `hands-free in real time: 40 pieces in ${seconds.toFixed(1)} s; from the first reading of a contact to captured ` +
        `${sorted[sorted.length >> 1]?.toFixed(0)} ms (median), ${sorted.at(-1)?.toFixed(0)} ms (most)`,
    );
    // A machine that is busy makes readings rarer, and the hands then hold longer; half the pace is too slow for any.
    expect(seconds).toBeLessThan(45);
  });
});
