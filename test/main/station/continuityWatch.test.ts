import { once } from 'node:events';
import { type AddressInfo, createServer } from 'node:net';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { Continuity } from '../../../core/contract/contract.ts';
import { serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readyBench } from '../../readyBench.ts';
import { tinyMeter } from '../../tinyMeter.ts';

function hearing(station: Station) {
  const heard: Continuity[] = [];
  const waiting: { wanted: (state: Continuity) => boolean; resolve: (state: Continuity) => void }[] = [];
  station.listen((news) => {
    if (news.kind !== 'continuity') return;
    heard.push(news);
    for (const each of waiting.filter(({ wanted }) => wanted(news))) {
      waiting.splice(waiting.indexOf(each), 1);
      each.resolve(news);
    }
  });
  const next = (wanted: (state: Continuity) => boolean) =>
    new Promise<Continuity>((resolve) => waiting.push({ wanted, resolve }));
  return {
    heard,
    closed: () => next((state) => state.on && state.closed),
    open: () => next((state) => state.on && !state.closed),
    off: () => next((state) => !state.on),
  };
}

describe('a meter that tells closed from open', () => {
  it('does, as long as it is asked to, and is free for a run afterwards', async () => {
    const meter = await tinyMeter({ 'RES:NPLC?': '0.2' });
    meter.ohms = '+9.9E+37';
    const station = openedStation();
    const { closed, open, off } = hearing(station);
    expect((await station.ask('overview', {})).continuity).toBeNull();
    const atFirst = open();
    await station.ask('start-continuity', { address: meter.address });
    const watched = { address: meter.address, simulated: false, closedBelowOhms: '10' };
    expect(await atFirst).toEqual({ kind: 'continuity', on: true, closed: false, ohms: null, ...watched });
    expect(meter.heard).toEqual(expect.arrayContaining(['CONF:RES', 'RES:RANG 1E+1', 'RES:NPLC 0.2']));
    const nowClosed = closed();
    const began = performance.now();
    meter.ohms = '+4.0E-01';
    expect(await nowClosed).toMatchObject({ closed: true, ohms: '0.40' });
    expect(performance.now() - began).toBeLessThan(100);
    expect((await station.ask('overview', {})).continuity).toMatchObject({ on: true, closed: true });
    const above = open();
    meter.ohms = '+1.2E+01';
    expect(await above).toMatchObject({ closed: false, ohms: '12' });
    const ended = off();
    await station.ask('stop-continuity', {});
    expect(await ended).not.toHaveProperty('why');
    await station.ask('stop-continuity', {});
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    meter.answers['RES:NPLC?'] = '10';
    expect((await station.ask('connect-meter', { run, address: meter.address })).link.state).toBe('connected');
  });

  it('takes the meter of a run, and gives way to a run', async () => {
    const server = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: { meter: { pace: 'none' } } });
    onTestFinished(() => server.close());
    const station = openedStation();
    const { closed, off } = hearing(station);
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await readyBench(station, run, server.address);
    await station.ask('start-capture', { run });
    const captureEnded = new Promise((resolve) =>
      station.listen((news) => news.kind === 'live' && news.live.phase === 'off' && resolve(news.live.why?.code)),
    );
    const closing = closed();
    await station.ask('start-continuity', { address: server.address, closedBelowOhms: '5' });
    expect(await captureEnded).toBe('capture-ended');
    // The hands of the simulated bench tap the tips.
    expect(Number((await closing).on && ((await closing) as { ohms: string }).ohms)).toBeLessThan(1);
    expect((await station.ask('overview', {})).link.state).toBe('none');
    const ended = off();
    await station.ask('connect-meter', { run, address: server.address });
    await ended;
    expect(server.bench.hands.work).toBe('rest');
  });

  it('is stopped while it still connects', async () => {
    // It takes the connection and says nothing.
    const silent = createServer().listen(0, '127.0.0.1');
    onTestFinished(() => void silent.close());
    await once(silent, 'listening');
    const station = openedStation();
    const { port } = silent.address() as AddressInfo;
    const started = problemOf(station.ask('start-continuity', { address: `tcp://127.0.0.1:${port}` }));
    await new Promise((resolve) => setTimeout(resolve, 50));
    await station.ask('stop-continuity', {});
    expect(await started).toBe('meter-missing');
  });

  it('says so when the meter is lost, and when there is none', async () => {
    const meter = await tinyMeter({ 'RES:NPLC?': '0.2' });
    const station = openedStation();
    const { open, off } = hearing(station);
    const atFirst = open();
    await station.ask('start-continuity', { address: meter.address });
    await atFirst;
    const ended = off();
    meter.hangUp();
    expect(await ended).toMatchObject({ on: false, why: { code: 'meter-lost' } });
    expect(await problemOf(station.ask('start-continuity', { address: 'tcp://127.0.0.1:1' }))).toBe(
      'meter-unreachable',
    );
    expect(await problemOf(station.ask('start-continuity', { address: 'nowhere' }))).toBe('address-unreadable');
    expect((await station.ask('overview', {})).continuity).toMatchObject({ on: false });
  });
});
