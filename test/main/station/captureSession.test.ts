import { describe, expect, it, onTestFinished } from 'vitest';
import type { Live } from '../../../core/contract/contract.ts';
import { counts } from '../../../core/inspection/run.ts';
import { Bench } from '../../../instruments/bench/bench.ts';
import { readScenario } from '../../../instruments/bench/scenario.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openPtyPair, socatIsHere, startPtyBench } from '../../instruments/ptyPair.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY, checkBench, readyBench, readyRealBench } from '../../readyBench.ts';
import { skipSaying } from '../../skipSaying.ts';
import { tinyMeter } from '../../tinyMeter.ts';
import { atQuickBench, hearing, quickLot, runOf, wrongOnes } from './capturing.ts';

const OPEN = '+9.9E+37';

describe('hands-free capture', () => {
  it('says in words what it was started with, and how the probes stand', async () => {
    const { station, run, start, outcome } = await atQuickBench();
    expect((await station.ask('overview', {})).live).toBeNull();
    const { setting, words } = await start({ setting: { settledReadings: 4, releaseMilliseconds: 200 } });
    expect(setting).toMatchObject({ settledReadings: 4, releaseMilliseconds: 200, openDwellMilliseconds: 1000 });
    expect(words.join(' ')).toContain('4 readings in a row');
    const captured = await outcome('captured');
    expect(captured).toMatchObject({ run, by: 'hands', phase: 'captured', steady: 4, of: 4, piece: 1 });
    expect(Number(captured.ohms)).toBeGreaterThan(4600);
    // Whoever opens a screen late is told how things stand, not what has happened.
    const { live } = await station.ask('overview', {});
    expect(live).toMatchObject({ run, by: 'hands', of: 4 });
    expect(live).not.toHaveProperty('outcome');
  });

  it('tells a piece step by step, the entry before that it is captured, and not more than 25 times a second', async () => {
    const { station, start, heard, outcome } = await atQuickBench({ hands: { piecesPerSecond: 2, shareSlips: 0 } });
    const order: string[] = [];
    station.listen((news) => {
      if (news.kind === 'entry') order.push(`entry ${news.entry.event.type}`);
      if (news.kind === 'live' && news.live.outcome) order.push(news.live.outcome);
    });
    await start();
    for (let piece = 0; piece < 3; piece++) await outcome('released');
    const one = ['contact', 'entry reading-taken', 'captured', 'released'];
    expect(order).toEqual([...one, ...one, ...one]);
    expect(heard.map(({ phase }) => phase)).toEqual(
      expect.arrayContaining(['armed', 'contact', 'settling', 'captured']),
    );
    const often = heard.filter(
      ({ at, outcome: happened, phase }, index) =>
        !happened && phase === heard[index - 1]?.phase && at - (heard[index - 1]?.at ?? 0) < 40 - 1e-6,
    );
    expect(often).toEqual([]);
  });

  it('lets somebody say a position at any moment of its beginning and its end', async () => {
    const { station, run, start, outcome } = await atQuickBench({}, quickLot(60, { positions: { kind: 'spread' } }));
    await start();
    await outcome('captured');
    const wait = async (turns: number) => {
      for (let turn = 0; turn < turns; turn++) await new Promise(setImmediate);
    };
    const refused: string[] = [];
    for (let turns = 0; turns < 40; turns++) {
      const under = turns % 2 === 0 ? station.ask('stop-capture', {}) : start();
      await wait(turns >> 1);
      refused.push(await problemOf(station.ask('say-position', { run, position: 4000 + turns })));
      await under;
    }
    expect(refused).toEqual(refused.map(() => 'no problem'));
  });

  it('counts the piece under the next number, never one twice, whenever readings are voided meanwhile', async () => {
    const { station, bench, run, start, off, outcome } = await atQuickBench({}, quickLot(60));
    const ended = off();
    await start();
    let voided = 0;
    while (voided < 15) {
      await outcome(voided % 3 === 0 ? 'contact' : voided % 3 === 1 ? 'captured' : 'released');
      const last = (await runOf(station, run)).readings.findLast(counts);
      if (!last) continue;
      await station.ask('void-reading', { run, reading: last.reading, by: BY, reason: 'slipped' });
      voided++;
    }
    expect(await ended).toMatchObject({ phase: 'off', why: { code: 'sample-complete' } });
    const done = await runOf(station, run);
    expect(done.tally.counted).toBe(60);
    expect(done.readings.slice().filter(({ voided: by }) => by).length).toBe(15);
    expect(wrongOnes(done, bench)).toEqual([]);
  });

  it('lets a reading by key in between, and does not count its piece once more', async () => {
    const { station, bench, run, start, off, outcome } = await atQuickBench({}, quickLot(30));
    const ended = off();
    await start();
    for (let reading = 0; reading < 8; reading++) {
      await outcome(reading % 2 === 0 ? 'contact' : 'released');
      const { entry } = await station.ask('take-reading', { run });
      expect(entry.event.type).toBe('reading-taken');
    }
    await ended;
    const done = await runOf(station, run);
    expect(done.tally.counted).toBe(30);
    expect(wrongOnes(done, bench)).toEqual([]);
  });

  it.each([
    ['at once', 0],
    ['soon', 3],
    ['in the middle of a piece', 11],
  ])('ends when it is asked to, %s, and the hands rest', async (_when, turns) => {
    const { station, bench, run, start, off } = await atQuickBench();
    await start();
    for (let turn = 0; turn < turns; turn++) await new Promise((resolve) => setImmediate(resolve));
    const ended = off();
    await station.ask('stop-capture', {});
    expect(await ended).not.toHaveProperty('why');
    expect(bench.hands.work).toBe('rest');
    expect((await station.ask('overview', {})).live).toMatchObject({ phase: 'off' });
    // Nothing has the meter any more.
    await station.ask('take-reading', { run });
    await station.ask('stop-capture', {});
  });

  it('goes on with other settings when it is asked for again', async () => {
    const { station, bench, run, start, off, outcome } = await atQuickBench({}, quickLot(12));
    await start();
    await outcome('captured');
    await start({ setting: { settledReadings: 4 } });
    expect(await outcome('captured')).toMatchObject({ of: 4 });
    await off();
    expect(wrongOnes(await runOf(station, run), bench)).toEqual([]);
  });

  it('ends when checks are due, and says so', async () => {
    const { station, bench, run, start, off } = await atQuickBench(
      {},
      quickLot(40, { checks: { everyReadings: 15, everyMinutes: 240 } }),
    );
    const ended = off();
    await start();
    expect(await ended).toMatchObject({ phase: 'off', why: { code: 'readiness-expired' } });
    const { readings } = await runOf(station, run);
    expect(readings.size).toBe(15);
    expect(await problemOf(start())).toBe('readiness-expired');
    expect(bench.hands.work).toBe('rest');
  });

  it('ends when the lot is put on hold, and when a check of the bench begins', async () => {
    const { station, run, start, off, outcome } = await atQuickBench();
    await start();
    await outcome('captured');
    const ended = off();
    await station.ask('check-bench', { run, by: BY, check: 'meter' });
    expect(await ended).toMatchObject({ why: { code: 'capture-ended' } });
    // Readings under a round close it: the rest of the new one is due.
    expect(await problemOf(start())).toBe('run-not-ready');

    const other = await atQuickBench();
    await other.start();
    await other.outcome('captured');
    const held = other.off();
    await other.station.ask('decide-lot', { run: other.run, disposition: 'on-hold', by: BY, reason: 'a question' });
    expect(await held).toMatchObject({ why: { code: 'run-on-hold' } });
    const { readings } = await runOf(other.station, other.run);
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect((await runOf(other.station, other.run)).readings.size).toBe(readings.size);
  });

  it('goes on where a check is refused that it is not the turn of', async () => {
    const { station, run, start, outcome } = await atQuickBench();
    await start();
    await outcome('captured');
    expect(await problemOf(station.ask('check-bench', { run, by: BY, check: 'reference' }))).toBe('check-out-of-order');
    await outcome('captured');
  });

  it('ends when the meter is turned to something else, lost, let go or wanted for another run', async () => {
    const turned = await atQuickBench();
    await turned.start();
    await turned.outcome('released');
    const endedByTurn = turned.off();
    turned.bench.select('VOLT');
    expect(await endedByTurn).toMatchObject({ why: { code: 'function-changed' } });
    expect((await runOf(turned.station, turned.run)).round).toEqual([]);

    const lost = await atQuickBench();
    await lost.start();
    await lost.outcome('contact');
    const endedByLoss = lost.off();
    await lost.server.close();
    expect((await endedByLoss).why?.code).toMatch(/^(meter-lost|meter-missing|run-interrupted)$/);

    const released = await atQuickBench();
    await released.start();
    await released.outcome('contact');
    expect(await problemOf(released.station.ask('find-meter', { path: '/dev/none' }))).toBe('reading-under-way');
    const endedByRelease = released.off();
    await released.station.ask('release-meter', {});
    expect(await endedByRelease).toMatchObject({ why: { code: 'capture-ended' } });
    expect(await problemOf(released.start())).toBe('meter-missing');

    const moved = await atQuickBench();
    const { run: second } = await moved.station.ask('receive-lot', { claim: quickLot(5) });
    await moved.start();
    await moved.outcome('contact');
    const endedByMove = moved.off();
    await readyBench(moved.station, second, moved.server.address);
    expect(await endedByMove).toMatchObject({ run: moved.run, why: { code: 'capture-ended' } });
  });

  it('is refused where readings could not count, and there is nothing to say to one that is not on', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    expect(await problemOf(station.ask('start-capture', { run }))).toBe('run-not-ready');
    expect(await problemOf(station.ask('start-capture', { run: 99 }))).toBe('run-unknown');
    expect(await problemOf(station.ask('say-open', { run }))).toBe('capture-off');
    const refused = station.ask('start-capture', { run, setting: { settledReadings: 1 } });
    expect(await problemOf(refused)).toBe('input-invalid');
  });

  it('takes the pieces where along the reel they are asked for', async () => {
    const { station, bench, run, start, off } = await atQuickBench(
      {},
      quickLot(15, { positions: { kind: 'random', seed: 5 } }),
    );
    const ended = off();
    await start();
    expect(await ended).toMatchObject({ why: { code: 'sample-complete' } });
    const done = await runOf(station, run);
    expect(done.readings.slice().every(({ position, piece }) => position !== null && position >= piece)).toBe(true);
    expect(wrongOnes(done, bench)).toEqual([]);
  });
});

describe('hands-free capture at a meter of its own', () => {
  async function atTinyMeter(odd: (question: string) => string | undefined = () => undefined) {
    const meter = await tinyMeter({}, odd);
    meter.ohms = '+4.7000E+03';
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: quickLot(20) });
    await readyRealBench(station, run, meter);
    const start = (setting = {}) => station.ask('start-capture', { run, setting });
    const readings = async () => (await runOf(station, run)).readings;
    return { meter, station, run, start, readings, ...hearing(station, () => performance.now()) };
  }
  /** Long enough for leads to have been seen open. */
  const some = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

  it('does not count what lay on the probes before it began, until that was lifted', async () => {
    const { meter, start, readings, next, outcome } = await atTinyMeter();
    await start();
    await some(400);
    expect((await readings()).size).toBe(0);
    const armed = next(({ phase }) => phase === 'armed');
    meter.ohms = OPEN;
    await armed;
    meter.ohms = '+4.7003E+03';
    expect(await outcome('captured')).toMatchObject({ ohms: '4700.3', piece: 1 });
    await some(400);
    expect((await readings()).slice().map(({ raw }) => raw)).toEqual(['+4.7003E+03']);
  });

  it('counts an open piece when somebody says so and overload lasts, and not before', async () => {
    const { meter, station, run, start, readings, next, outcome } = await atTinyMeter();
    meter.ohms = OPEN;
    const armed = next(({ phase }) => phase === 'armed');
    await start({ openDwellMilliseconds: 500 });
    await armed;
    await some(300);
    await some(700);
    expect((await readings()).size).toBe(0);
    const said = outcome('open-said');
    const captured = outcome('captured');
    const began = performance.now();
    await station.ask('say-open', { run });
    expect(await said).toMatchObject({ phase: 'open-said' });
    expect(await captured).toMatchObject({ ohms: null, piece: 1 });
    expect(performance.now() - began).toBeGreaterThan(490);
    await some(700);
    expect((await readings()).slice().map(({ raw, ohms }) => [raw, ohms])).toEqual([[OPEN, null]]);
  });

  it('sees a piece above the fixed range, also one that was said to be open, and counts what it reads', async () => {
    let isAuto = false;
    let above = false;
    let reads = '+4.7010E+04';
    const { meter, station, run, start, readings, next, outcome } = await atTinyMeter((question) => {
      if (question.startsWith('RES:RANG:AUTO ON')) isAuto = true;
      else if (/^RES:RANG \S/.test(question)) isAuto = false;
      if (question === 'RES:RANG:AUTO?') return isAuto ? '1' : '0';
      return question === 'READ?' && above && isAuto ? reads : undefined;
    });
    meter.ohms = OPEN;
    const armed = next(({ phase }) => phase === 'armed');
    await start();
    await armed;
    await some(300);
    above = true;
    expect(await outcome('captured')).toMatchObject({ ohms: '47010', piece: 1 });
    above = false;
    await outcome('released');
    await station.ask('say-open', { run });
    reads = '+4.7130E+04';
    above = true;
    expect(await outcome('captured')).toMatchObject({ ohms: '47130', piece: 2 });
    expect((await readings()).slice().map(({ raw }) => raw)).toEqual(['+4.7010E+04', '+4.7130E+04']);
  });

  it('says why a piece does not count, and goes on with the next try', async () => {
    const { meter, start, readings, next, outcome } = await atTinyMeter();
    meter.ohms = OPEN;
    const armed = next(({ phase }) => phase === 'armed');
    await start();
    await armed;
    await some(300);
    const trouble = outcome('trouble');
    meter.ohms = '-4.7000E+03';
    expect((await trouble).troubleWords).toContain('below zero');
    expect((await readings()).size).toBe(0);
    const released = outcome('released');
    meter.ohms = OPEN;
    await released;
    const captured = outcome('captured');
    meter.ohms = '+4.7000E+03';
    expect(await captured).toMatchObject({ piece: 1 });
  });

  it('bears an answer that the line has spoilt, and ends when there is nothing else', async () => {
    let spoilt = 0;
    const { meter, start, readings, next, outcome, off } = await atTinyMeter((question) =>
      question === 'READ?' && spoilt > 0 && spoilt-- > 0 ? 'x+4.7' : undefined,
    );
    meter.ohms = OPEN;
    const armed = next(({ phase }) => phase === 'armed');
    await start();
    await armed;
    await some(300);
    const captured = outcome('captured');
    spoilt = 2;
    meter.ohms = '+4.7001E+03';
    expect(await captured).toMatchObject({ ohms: '4700.1' });
    const ended = off();
    spoilt = Number.POSITIVE_INFINITY;
    expect(await ended).toMatchObject({ why: { code: 'answer-unreadable' } });
    expect((await readings()).size).toBe(1);
  });
});

describe("capture by the meter's own trigger", () => {
  it('counts what is on the probes whenever the trigger comes, above the range and open too', async () => {
    const { station, bench, run, start, off, heard } = await atQuickBench(
      { lot: { shareOpen: 0.2, shareWrong: 0.2 } },
      quickLot(20),
    );
    const ended = off();
    await start({ by: 'trigger' });
    expect(await ended).toMatchObject({ by: 'trigger', why: { code: 'sample-complete' } });
    const done = await runOf(station, run);
    expect(wrongOnes(done, bench)).toEqual([]);
    expect(done.readings.slice().some(({ raw }) => raw.startsWith('+9.9'))).toBe(true);
    expect(new Set(heard.map(({ phase }) => phase))).toEqual(new Set(['waiting', 'off']));
    expect(bench.trigger).toMatchObject({ source: 'IMM', isWaiting: false });
  });

  it('lets voids in while it waits, and ends when it is asked to', async () => {
    const { station, bench, run, start, outcome, off } = await atQuickBench({}, quickLot(20));
    await start({ by: 'trigger' });
    await outcome('captured');
    await station.ask('void-reading', { run, reading: 1, by: BY, reason: 'wrong piece' });
    await outcome('captured');
    const ended = off();
    await station.ask('stop-capture', {});
    expect(await ended).not.toHaveProperty('why');
    const { readings } = await runOf(station, run);
    expect(readings.get(0)).toMatchObject({ piece: 1, voided: { reason: 'wrong piece' } });
    expect(readings.slice().filter((each) => counts(each) && each.piece === 1).length).toBe(1);
    expect(bench.trigger).toMatchObject({ source: 'IMM', isWaiting: false });
    expect(bench.status.errorCount).toBe(0);
  });

  it('is refused where the meter has none', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: quickLot(5) });
    await station.ask('connect-meter', { run, address: 'sim:7?dialect=other-words' });
    await station.ask('confirm-bench', { run, by: BY, cautions: ['simulated bench'] });
    // It has no thermometer.
    await checkBench(station, run, (check) => (check === 'ambient' ? { celsius: '23' } : {}));
    expect(await problemOf(station.ask('start-capture', { run, by: 'trigger' }))).toBe('trigger-missing');
  });
});

describe('hands-free capture in real time', () => {
  it('works at a meter that talks unasked', async () => {
    const station = openedStation();
    const claim = quickLot(3, { measurement: { method: '2-wire', range: 'auto', integrationCycles: 1 } });
    const { run } = await station.ask('receive-lot', { claim });
    await readyBench(station, run, 'sim:7?dialect=talker');
    const { off, heard } = hearing(station, () => performance.now());
    const ended = off();
    await station.ask('start-capture', { run });
    expect(await ended).toMatchObject({ why: { code: 'sample-complete' } });
    const { readings, tally } = await runOf(station, run);
    expect(tally.counted).toBe(3);
    const outcomes = heard.flatMap(({ outcome }: Live) => outcome ?? []);
    expect(outcomes.filter((each) => each === 'captured')).toHaveLength(3);
    expect(new Set(readings.slice().map(({ raw }) => raw)).size).toBe(3);
  });

  it('works over a pseudo-terminal, at the pace a meter has', async (test) => {
    if (!socatIsHere()) skipSaying(test, 'socat is not installed');
    const pair = await openPtyPair();
    const scenario = { seed: 7, hands: { piecesPerSecond: 2 }, meter: { pace: 'real' } } as const;
    const bench = await startPtyBench(pair, scenario);
    onTestFinished(async () => {
      await bench.stop();
      await pair.stop();
    });
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: quickLot(10) });
    await readyBench(station, run, pair.near);
    const { off } = hearing(station, () => performance.now());
    const ended = off();
    await station.ask('start-capture', { run });
    expect(await ended).toMatchObject({ why: { code: 'sample-complete' } });
    expect(wrongOnes(await runOf(station, run), new Bench(readScenario(scenario)))).toEqual([]);
  });
});
