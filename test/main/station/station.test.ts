import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, isAbsolute, join, relative } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { News } from '../../../core/contract/contract.ts';
import type { InspectionEvent } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openPtyPair, socatIsHere, startPtyBench } from '../../instruments/ptyPair.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { checkBench, checkRealBench, readyBench, readyRealBench, runOf } from '../../readyBench.ts';
import { skipSaying } from '../../skipSaying.ts';
import { smallDisk, spareBytes } from '../../smallDisk.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { tinyMeter } from '../../tinyMeter.ts';

const QUICK_BENCH = { seed: 7, meter: { pace: 'none' } } as const;

async function receive(station: Station, claim: LotClaimInput = exampleLot()): Promise<number> {
  return (await station.ask('receive-lot', { claim })).run;
}

/** Waits for news that satisfy a condition. */
function heard(station: Station, wanted: (news: News) => boolean): Promise<News> {
  return new Promise((resolve) => {
    const stop = station.listen((news) => {
      if (!wanted(news)) return;
      stop();
      resolve(news);
    });
  });
}

/** Waits for an event of this type. */
function eventHeard(station: Station, type: InspectionEvent['type']): Promise<News> {
  return heard(station, (news) => news.kind === 'entry' && news.entry.event.type === type);
}

describe('a station', () => {
  it('inspects a lot from receiving to a certificate that verifies', async () => {
    const station = openedStation();
    const run = await receive(station, exampleLot({ aql: '1.0', level: 'S-3' }));
    await readyBench(station, run);
    while ((await station.ask('overview', {})).runs[0]?.outlook === 'undecided')
      await station.ask('take-reading', { run });
    const { plan, tally } = await runOf(station, run);
    // MIL-STD-105E Table I: 3201 to 10000 at S-3 is F; Table II-A: F at AQL 1.0 leads by the arrow to E, 13, 0/1.
    expect(plan).toMatchObject({ codeLetter: 'F', planLetter: 'E', sampleSize: 13, accept: 0, reject: 1 });
    await checkBench(station, run);
    const disposition = tally.nonconforming === 0 ? 'accepted' : 'not-accepted';
    await station.ask('decide-lot', { run, disposition, by: 'Ines Okoro' });
    const { file, sha256 } = await station.ask('write-certificate', { run });
    const verified = verifyCertificate(readFileSync(file));
    expect(verified).toMatchObject({ run, lot: 'L-2093', disposition, simulated: true });
    expect((await station.ask('read-certificate', { run })).text).toBe(readFileSync(file, 'utf8'));
    expect((await runOf(station, run)).certificates).toMatchObject([{ file, sha256 }]);
  });

  it('tells a reading only after it is in the record', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const run = await receive(station);
    await readyBench(station, run);
    const told: number[] = [];
    station.listen((news) => {
      if (news.kind !== 'entry' || news.entry.event.type !== 'reading-taken') return;
      const kept = readFileSync(join(folder, 'reelohm.sqlite-wal')).includes(Buffer.from(news.entry.hash, 'hex'));
      if (kept) told.push(news.entry.event.reading);
    });
    for (let reading = 0; reading < 5; reading++) await station.ask('take-reading', { run });
    expect(told).toEqual([1, 2, 3, 4, 5]);
  });

  it('goes on where it stopped, and asks for the bench to be confirmed anew', async () => {
    const folder = temporaryFolder();
    const first = openedStation(folder);
    const run = await receive(first);
    await readyBench(first, run);
    for (let reading = 0; reading < 4; reading++) await first.ask('take-reading', { run });
    const before = await runOf(first, run);
    await first.close();

    const second = openedStation(folder);
    expect(await runOf(second, run)).toEqual(before);
    expect(await problemOf(second.ask('take-reading', { run }))).toBe('meter-missing');
    await second.ask('connect-meter', { run, address: 'sim:7' });
    expect(await problemOf(second.ask('take-reading', { run }))).toBe('run-not-ready');
    await second.ask('confirm-bench', { run, by: 'Ines Okoro', cautions: ['read'] });
    expect(await problemOf(second.ask('take-reading', { run }))).toBe('run-not-ready');
    await checkBench(second, run);
    await second.ask('take-reading', { run });
    expect((await runOf(second, run)).tally.counted).toBe(5);
  });

  it('does not count a piece twice when a reading is asked for while one is under way', async () => {
    const station = openedStation();
    const run = await receive(station);
    await readyBench(station, run);
    const [first, second] = await Promise.allSettled([
      station.ask('take-reading', { run }),
      station.ask('take-reading', { run }),
    ]);
    expect(first.status).toBe('fulfilled');
    expect(second).toMatchObject({ status: 'rejected', reason: { code: 'reading-under-way' } });
    expect((await runOf(station, run)).tally.counted).toBe(1);
  });

  it('measures the piece of a voided reading again and keeps both', async () => {
    const station = openedStation();
    const run = await receive(station);
    await readyBench(station, run);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });
    await station.ask('void-reading', { run, reading: 2, by: 'Ines Okoro', reason: 'slipped' });
    await station.ask('take-reading', { run });
    const { readings, tally } = await runOf(station, run);
    expect(readings.slice().map(({ piece }) => piece)).toEqual([1, 2, 3, 2]);
    expect(tally).toMatchObject({ counted: 3, voided: 1 });
  });
});

describe('a meter that comes and goes', () => {
  it('interrupts the run when it is lost, keeps the readings, and goes on when it is back', async () => {
    const bench = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: QUICK_BENCH });
    const port = Number(new URL(bench.address).port);
    const station = openedStation();
    const run = await receive(station);
    await readyBench(station, run, bench.address);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });

    const interrupted = eventHeard(station, 'run-interrupted');
    await bench.close();
    await interrupted;
    expect((await station.ask('overview', {})).link.state).toBe('lost');
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-interrupted');

    const continued = eventHeard(station, 'run-continued');
    const back = await serveBenchOnTcp({ host: '127.0.0.1', port, scenario: QUICK_BENCH });
    onTestFinished(() => back.close());
    await continued;
    // What was shown of the bench was shown before it was gone.
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-not-ready');
    await checkBench(station, run);
    await station.ask('take-reading', { run });
    const { tally, readings } = await runOf(station, run);
    expect(tally.counted).toBe(4);
    expect(readings.slice().map(({ piece }) => piece)).toEqual([1, 2, 3, 4]);
  });

  it('goes on over a serial line that was pulled out and put back', async (test) => {
    if (!socatIsHere()) skipSaying(test, 'socat is not installed');
    const pair = await openPtyPair();
    let bench = await startPtyBench(pair, QUICK_BENCH);
    onTestFinished(async () => {
      await bench.stop();
      await pair.stop();
    });
    const station = openedStation();
    const run = await receive(station);
    await readyBench(station, run, pair.near);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });

    const interrupted = eventHeard(station, 'run-interrupted');
    await pair.unplug();
    await interrupted;
    const continued = eventHeard(station, 'run-continued');
    await bench.stop();
    await pair.plugIn();
    bench = await startPtyBench(pair, QUICK_BENCH);
    await continued;
    await checkBench(station, run);
    await station.ask('take-reading', { run });
    const { readings } = await runOf(station, run);
    expect(readings.slice().map(({ piece }) => piece)).toEqual([1, 2, 3, 4]);
  });

  it('does not go on with another meter', async () => {
    const bench = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: QUICK_BENCH });
    const port = Number(new URL(bench.address).port);
    const station = openedStation();
    const run = await receive(station);
    await readyBench(station, run, bench.address);
    await station.ask('take-reading', { run });

    const refused = heard(
      station,
      (news) => news.kind === 'link' && news.link.state === 'lost' && news.link.why.code === 'meter-other',
    );
    await bench.close();
    const other = await serveBenchOnTcp({ host: '127.0.0.1', port, scenario: { ...QUICK_BENCH, seed: 8 } });
    onTestFinished(() => other.close());
    await refused;
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-interrupted');
    expect(await problemOf(station.ask('connect-meter', { run, address: other.address }))).toBe('meter-other');
  });

  it('is patient with a meter that has just been switched on, but not with one that is set otherwise', async () => {
    const faults = ['-310,"System error"', '-310,"System error"'];
    const meter = await tinyMeter({}, (question) =>
      question === 'SYST:ERR?' && meter.connections > 1 ? faults.shift() : undefined,
    );
    const station = openedStation();
    const run = await receive(station);
    await readyRealBench(station, run, meter);
    await station.ask('take-reading', { run });
    const continued = eventHeard(station, 'run-continued');
    meter.hangUp();
    await continued;
    expect(faults).toEqual([]);
    await checkRealBench(station, run, meter);
    await station.ask('take-reading', { run });

    const refused = heard(
      station,
      (news) => news.kind === 'link' && news.link.state === 'lost' && news.link.why.code === 'setting-not-taken',
    );
    meter.answers['RES:NPLC?'] = '10';
    meter.hangUp();
    await refused;
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-interrupted');
  });

  it('lets the first meter go when another run takes its place', async () => {
    const bench = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: QUICK_BENCH });
    onTestFinished(() => bench.close());
    const station = openedStation();
    const first = await receive(station);
    await readyBench(station, first, bench.address);
    const second = await receive(station);
    await readyBench(station, second, bench.address);
    expect(await problemOf(station.ask('take-reading', { run: first }))).toBe('meter-missing');
    await station.ask('take-reading', { run: second });
  });
});

describe('a station that is asked several things at once', () => {
  it('ends with one meter when it is told to connect again and again', async () => {
    const benches = await Promise.all(
      [1, 2, 3].map((seed) => serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: { ...QUICK_BENCH, seed } })),
    );
    onTestFinished(async () => void (await Promise.all(benches.map((bench) => bench.close()))));
    const station = openedStation();
    const run = await receive(station);
    const asked = benches.map(({ address }) => station.ask('connect-meter', { run, address }));
    const outcomes = await Promise.allSettled(asked);
    expect(outcomes.map(({ status }) => status)).toEqual(['rejected', 'rejected', 'fulfilled']);
    expect((await station.ask('overview', {})).link).toMatchObject({
      state: 'connected',
      address: benches[2]?.address,
    });
    expect((await runOf(station, run)).meter?.identity.serial).toBe('3');
    // The other benches are free for somebody else.
    for (const { address } of benches.slice(0, 2)) {
      const other = openedStation();
      const free = await receive(other);
      await readyBench(other, free, address);
      await other.ask('take-reading', { run: free });
    }
  });

  it('closes while a reading is under way, and keeps what was told', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const run = await receive(station);
    await readyBench(station, run);
    await station.ask('take-reading', { run });
    const underWay = problemOf(station.ask('take-reading', { run }));
    await station.close();
    expect(await underWay).toMatch(/meter-lost|record-failed/);
    expect((await runOf(openedStation(folder), run)).tally.counted).toBe(1);
  });

  it('lets no listener that fails undo what is recorded', async () => {
    const station = openedStation();
    const run = await receive(station);
    const warned = new Promise<Error>((resolve) => process.once('warning', resolve));
    station.listen(() => {
      throw new Error('this screen is gone');
    });
    const told: News[] = [];
    station.listen((news) => told.push(news));
    await readyBench(station, run);
    await station.ask('take-reading', { run });
    expect((await runOf(station, run)).tally.counted).toBe(1);
    expect(told.some((news) => news.kind === 'entry' && news.entry.event.type === 'reading-taken')).toBe(true);
    expect((await warned).message).toContain('this screen is gone');
  });
});

describe('what a station refuses, losing nothing', () => {
  it.each<[string, (lot: LotClaimInput) => LotClaimInput, string]>([
    ['a lot of no pieces', (lot) => ({ ...lot, lot: { ...lot.lot, size: 0 } }), 'lot-empty'],
    [
      'a sample larger than the lot',
      (lot) => ({ ...lot, plan: { sampleSize: 5001, accept: 0 } }),
      'sample-larger-than-lot',
    ],
    [
      'limits upside down',
      (lot) => ({ ...lot, part: { ...lot.part, nominal: '', tolerance: '4.8k to 4.6k' } }),
      'window-upside-down',
    ],
    ['a percentage of nothing', (lot) => ({ ...lot, part: { ...lot.part, nominal: '0R' } }), 'window-percent-of-zero'],
    ['an AQL that is none', (lot) => ({ ...lot, plan: { aql: '1.1' } }), 'aql-unknown'],
    ['nonsense for a value', (lot) => ({ ...lot, part: { ...lot.part, nominal: '4k7k' } }), 'resistance-unreadable'],
  ])('%s', async (_what, change, code) => {
    const station = openedStation();
    expect(await problemOf(receive(station, change(exampleLot())))).toBe(code);
    expect((await station.ask('overview', {})).runs).toEqual([]);
    expect(await receive(station)).toBe(1);
  });

  it('a question that is not of the contract', async () => {
    const station = openedStation();
    expect(await problemOf(station.ask('overview', { all: true } as never))).toBe('input-invalid');
    expect(await problemOf(station.ask('take-reading', { run: -1 }))).toBe('input-invalid');
    const claim = { ...exampleLot(), inspector: 'two\nlines' };
    expect(await problemOf(station.ask('receive-lot', { claim }))).toBe('input-invalid');
  });

  it('an address where no meter is', async () => {
    const station = openedStation();
    const run = await receive(station);
    expect(await problemOf(station.ask('connect-meter', { run, address: 'tcp://127.0.0.1:1' }))).toBe(
      'meter-unreachable',
    );
    expect(await problemOf(station.ask('connect-meter', { run, address: '/dev/no-such-port' }))).toBe(
      'meter-unreachable',
    );
    expect(await problemOf(station.ask('connect-meter', { run, address: 'what?' }))).toBe('address-unreadable');
    expect((await station.ask('overview', {})).link).toEqual({ state: 'none' });
    // A slip of the pen for one run does not take the meter of another.
    await readyBench(station, run);
    const second = await receive(station);
    expect(await problemOf(station.ask('connect-meter', { run: second, address: 'rubbish' }))).toBe(
      'address-unreadable',
    );
    await station.ask('take-reading', { run });
  });

  it('a certificate where one is already, or where none can be written', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const run = await receive(station, exampleLot({ sampleSize: 2, accept: 1 }));
    await readyBench(station, run);
    expect(await problemOf(station.writeCertificate({ run, form: 'dot' }))).toBe('run-undecided');
    await station.ask('decide-lot', { run, disposition: 'on-hold', by: 'Ines Okoro', reason: 'waiting for the buyer' });
    const taken = join(folder, 'taken.csv');
    writeFileSync(taken, 'mine');
    expect(await problemOf(station.writeCertificate({ run, form: 'dot' }, taken))).toBe('certificate-exists');
    expect(readFileSync(taken, 'utf8')).toBe('mine');
    expect(await problemOf(station.writeCertificate({ run, form: 'dot' }, join(taken, 'below.csv')))).toBe(
      'certificate-unwritable',
    );
    const { file } = await station.writeCertificate({ run, form: 'dot' }, join(folder, 'new.csv'));
    expect(readdirSync(dirname(file)).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('a certificate that is not the one it wrote', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const run = await receive(station);
    await station.ask('decide-lot', { run, disposition: 'on-hold', by: 'Ines Okoro', reason: 'waiting' });
    const { file } = await station.writeCertificate(
      { run, form: 'dot' },
      relative(process.cwd(), join(folder, 'mine.csv')),
    );
    expect(isAbsolute(file)).toBe(true);
    expect((await station.ask('read-certificate', { run })).file).toBe(file);
    writeFileSync(file, 'tampered');
    expect(await problemOf(station.ask('read-certificate', { run }))).toBe('certificate-broken');
  });

  it('no certificate because of a file that lies in its folder: it takes the next free name', async () => {
    const station = openedStation();
    const held = { disposition: 'on-hold', by: 'Ines Okoro', reason: 'waiting' } as const;
    const first = await receive(station);
    await station.ask('decide-lot', { run: first, ...held });
    const { file } = await station.ask('write-certificate', { run: first });
    const second = await receive(station);
    await station.ask('decide-lot', { run: second, ...held });
    const stray = file.replace('run-1', 'run-2');
    writeFileSync(stray, 'from an earlier record');
    expect((await station.ask('write-certificate', { run: second })).file).toBe(stray.replace('.csv', '-2.csv'));
    expect(readFileSync(stray, 'utf8')).toBe('from an earlier record');
  });

  it('a reading it cannot keep: not shown, not counted, and measured again when there is room', async (test) => {
    const folder = smallDisk(test);
    const station = openedStation(folder);
    const run = await receive(station);
    await readyBench(station, run);
    await station.ask('take-reading', { run });
    const told: News[] = [];
    station.listen((news) => told.push(news));
    writeFileSync(join(folder, 'ballast'), Buffer.alloc(Math.max(0, spareBytes(folder))));
    let refused = '';
    // The log may have a little room left in its last page.
    for (let tries = 0; tries < 50 && refused !== 'record-full'; tries++) {
      refused = await problemOf(station.ask('take-reading', { run }));
      if (refused === 'sample-complete') break;
    }
    expect(refused).toBe('record-full');
    const counted = (await runOf(station, run)).tally.counted;
    expect(told.length).toBe(counted - 1);
    rmSync(join(folder, 'ballast'));
    await station.ask('take-reading', { run });
    expect((await runOf(station, run)).tally.counted).toBe(counted + 1);
  });

  it('a decision its plan does not allow', async () => {
    const station = openedStation();
    const run = await receive(station);
    await readyBench(station, run);
    await station.ask('take-reading', { run });
    expect(await problemOf(station.ask('decide-lot', { run, disposition: 'accepted', by: 'me' }))).toBe(
      'decision-against-plan',
    );
    expect(await problemOf(station.ask('decide-lot', { run, disposition: 'on-hold', by: 'me' }))).toBe(
      'reason-missing',
    );
    expect(await problemOf(station.ask('take-reading', { run: 99 }))).toBe('run-unknown');
  });
});
