import { once } from 'node:events';
import { rm } from 'node:fs/promises';
import { connect } from 'node:net';
import { SerialPort } from 'serialport';
import { afterEach, describe, expect, it } from 'vitest';
import type { Measured } from '../../core/window/judge.ts';
import type { BenchScenarioInput } from '../../instruments/bench/scenario.ts';
import { type BenchServer, serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { type ConnectOptions, connectMeter, reconnectMeter } from '../../instruments/meter/connect.ts';
import type { Meter } from '../../instruments/meter/meter.ts';
import { dialectNamed } from '../../instruments/meter/shippedDialects.ts';
import { openPtyPair, type PtyPair, socatIsHere, startPtyBench } from './ptyPair.ts';

const scenario: BenchScenarioInput = { seed: 6, meter: { pace: 'none' } };

const opened: { close(): Promise<void> }[] = [];
const processes: { stop(): Promise<void> }[] = [];
afterEach(async () => {
  for (const each of opened.splice(0).reverse()) await each.close();
  for (const each of processes.splice(0).reverse()) await each.stop();
});

/** What is promised for a pulled adapter that is plugged in again. */
const BACK_WITHIN_MILLISECONDS = 2000;

function options(onLost: ConnectOptions['onLost'] = () => undefined): ConnectOptions {
  return { random: Math.random, bench: scenario, onLost };
}

async function meterAt(address: string, onLost?: ConnectOptions['onLost']): Promise<Meter> {
  const meter = await connectMeter(address, options(onLost));
  opened.push(meter);
  return meter;
}

async function serve(port = 0, over: BenchScenarioInput = scenario): Promise<BenchServer> {
  const server = await serveBenchOnTcp({ host: '127.0.0.1', port, scenario: over });
  opened.push(server);
  return server;
}

async function cable(): Promise<PtyPair> {
  const pair = await openPtyPair();
  processes.push(pair);
  return pair;
}

/** Readings of 40 pieces on every kind of setting. */
async function readings(meter: Meter): Promise<Measured[]> {
  const found: Measured[] = [];
  for (const range of ['auto', { coversOhms: '4800' }] as const) {
    await meter.configure({ function: '2-wire', range, integrationCycles: 1 });
    for (let piece = 1; piece <= 20; piece++) {
      await meter.hands?.place(piece);
      found.push(await meter.read());
    }
  }
  await meter.hands?.lift();
  found.push(await meter.read());
  return found;
}

describe('connecting a meter', () => {
  it('gives the same readings in this process and over TCP for the same seed, and others for another', async () => {
    const here = await readings(await meterAt('sim:'));
    const server = await serve();
    expect(await readings(await meterAt(server.address))).toEqual(here);
    expect(await readings(await meterAt('sim:7'))).not.toEqual(here);
    expect(here.at(-1)).toMatchObject({ kind: 'overload' });
  });

  it('says that nothing is there', async () => {
    const server = await serve();
    await server.close();
    await expect(meterAt(server.address)).rejects.toMatchObject({ code: 'meter-unreachable' });
    await expect(meterAt('/dev/no-such-port')).rejects.toMatchObject({ code: 'meter-unreachable' });
    await expect(meterAt('/dev/null')).rejects.toMatchObject({ code: 'meter-unreachable' });
    await expect(meterAt('nonsense')).rejects.toMatchObject({ code: 'address-unreadable' });
  });

  it('serves clients one after the other and turns away a second one at once', async () => {
    const server = await serve();
    const first = await meterAt(server.address);
    const second = connect(Number(new URL(server.address).port), '127.0.0.1');
    const [said] = await once(second, 'data');
    expect(String(said)).toBe('busy\n');
    await once(second, 'close');
    await expect(meterAt(server.address)).rejects.toMatchObject({ code: 'meter-lost' });
    await first.close();
    const address = server.address;
    await expect.poll(async () => (await meterAt(address).catch(() => null))?.identity.serial).toBe('6');
  });

  it('finds its way through a message cut anywhere, any terminator, and one without end', async () => {
    const server = await serve();
    const socket = connect({ port: Number(new URL(server.address).port), host: '127.0.0.1', noDelay: true });
    let said = '';
    socket.on('data', (chunk) => {
      said += chunk.toString();
    });
    for (const byte of '*ESE 5\r*ESE?\r\n\n*ESE 6;*ESE?\n') {
      await new Promise<void>((sent) => {
        socket.write(byte, () => sent());
      });
    }
    await expect.poll(() => said).toBe('5\n6\n');
    said = '';
    socket.write('X'.repeat(10_000_000));
    socket.write('\nSYST:ERR?\nSYST:ERR?\n');
    await expect.poll(() => said, { timeout: 5000 }).toBe('-363,"Input buffer overrun"\n0,"No error"\n');
    socket.destroy();
  });

  it('connects again to the same meter, and not to another', async () => {
    const first = await serve();
    const port = Number(new URL(first.address).port);
    const lost = Promise.withResolvers<string>();
    const meter = await meterAt(first.address, (why) => lost.resolve(why.code));
    await meter.configure({ function: '2-wire', range: 'auto', integrationCycles: 1 });
    await first.close();
    expect(await lost.promise).toBe('meter-lost');
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-lost' });

    const { signal } = new AbortController();
    const again = reconnectMeter(first.address, meter.identity, { ...options(), signal });
    const second = await serve(port);
    const found = await again;
    opened.push(found);
    expect(found.identity).toEqual(meter.identity);
    await found.close();
    await second.close();

    await serve(port, { ...scenario, seed: 8 });
    const other = reconnectMeter(first.address, meter.identity, { ...options(), signal });
    await expect(other).rejects.toMatchObject({ code: 'meter-other' });
  });

  it('gives up connecting when told to', async () => {
    const server = await serve();
    const { identity } = await meterAt(server.address);
    await server.close();
    const giveUp = new AbortController();
    const trying = reconnectMeter(server.address, identity, { ...options(), signal: giveUp.signal });
    giveUp.abort(new Error('no more'));
    await expect(trying).rejects.toThrow('no more');
    await expect(connectMeter('sim:', { ...options(), signal: giveUp.signal })).rejects.toThrow('no more');
  });
});

describe('connecting a meter in a dialect', () => {
  it('speaks the one the address names, plain SCPI without a name', async () => {
    expect((await meterAt('sim:')).dialect).toBe('scpi');
    expect((await meterAt('sim:3?dialect=one-command')).dialect).toBe('one-command');
    await expect(meterAt('sim:?dialect=bench-3')).rejects.toMatchObject({ code: 'dialect-unknown' });
  });

  it('speaks one of the user, and does not try again for one that is unknown', async () => {
    const own = { ...dialectNamed('one-command'), name: 'bench-3' };
    const meter = await connectMeter('sim:?dialect=bench-3', { ...options(), dialects: [own] });
    opened.push(meter);
    expect(meter.dialect).toBe('bench-3');
    const { signal } = new AbortController();
    await expect(
      reconnectMeter('sim:?dialect=bench-3', meter.identity, { ...options(), signal }),
    ).rejects.toMatchObject({ code: 'dialect-unknown' });
  });

  it('is simulated also where the meter itself tells nothing', async () => {
    const meter = await meterAt('sim:?dialect=talker');
    expect(meter.identity).toMatchObject({ simulated: true, serial: 'not told' });
    expect(meter.hands).not.toBeNull();
  });

  it('connects a talker again, which cannot tell that it is the same', async () => {
    const talking = {
      ...scenario,
      meter: { pace: 'none', manner: 'talker', talker: { pauseMilliseconds: 20 } },
    } as const;
    const first = await serve(0, talking);
    const address = `${first.address}?dialect=talker`;
    const lost = Promise.withResolvers<string>();
    const meter = await meterAt(address, (why) => lost.resolve(why.code));
    expect(meter).toMatchObject({ identity: { text: 'not told', simulated: false }, hands: null });
    await first.close();
    expect(await lost.promise).toBe('meter-lost');
    const { signal } = new AbortController();
    const again = reconnectMeter(address, meter.identity, { ...options(), signal });
    await serve(Number(new URL(first.address).port), talking);
    const found = await again;
    opened.push(found);
    await found.configure({ function: '2-wire', range: 'auto', integrationCycles: 1 });
    expect(await found.read()).toMatchObject({ kind: 'overload', said: 'OL' });
  });
});

describe.skipIf(!socatIsHere())('a meter on a serial port', () => {
  it('gives the same readings as in this process for the same seed', async () => {
    const here = await readings(await meterAt('sim:'));
    const pair = await cable();
    processes.push(await startPtyBench(pair, scenario));
    const meter = await meterAt(`${pair.near}?baud=115200`);
    expect(await readings(meter)).toEqual(here);
  });

  it('is held by one program at a time, and free again after closing', async () => {
    const pair = await cable();
    processes.push(await startPtyBench(pair, scenario));
    const meter = await meterAt(pair.near);
    await expect(meterAt(pair.near)).rejects.toMatchObject({ code: 'port-busy' });
    await meter.close();
    expect((await meterAt(pair.near)).identity).toEqual(meter.identity);
  });

  it('is silent when nothing answers behind the port', async () => {
    const pair = await cable();
    const far = new SerialPort({ path: pair.far, baudRate: 9600 });
    let heard = '';
    far.on('data', (chunk: Buffer) => {
      heard += chunk.toString('latin1');
    });
    await once(far, 'open');
    await expect(meterAt(pair.near)).rejects.toMatchObject({ code: 'meter-silent' });
    // It was taken into remote control before it was asked anything, so it is given back.
    await expect.poll(() => heard.trim().split('\n')).toEqual(expect.arrayContaining(['SYST:REM', 'SYST:LOC']));
    await new Promise((resolve) => far.close(resolve));
  });

  it('is lost when it is unplugged, with a reading under way or not', async () => {
    for (const busy of [true, false]) {
      const pair = await cable();
      const bench = await startPtyBench(pair, { ...scenario, meter: { pace: 'real' } });
      const lost = Promise.withResolvers<string>();
      const meter = await meterAt(pair.near, (why) => lost.resolve(why.code));
      await meter.configure({ function: '2-wire', range: 'auto', integrationCycles: 100 });
      const reading = busy ? expect(meter.read()).rejects.toMatchObject({ code: 'meter-lost' }) : null;
      await pair.unplug();
      expect(await lost.promise).toBe('meter-lost');
      await reading;
      await bench.stop();
    }
  });

  it('is lost when its port disappears although the line says nothing of it', async () => {
    const pair = await cable();
    processes.push(await startPtyBench(pair, scenario));
    const lost = Promise.withResolvers<string>();
    const meter = await meterAt(pair.near, (why) => lost.resolve(why.code));
    await rm(pair.near);
    expect(await lost.promise).toBe('meter-lost');
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-lost' });
  });

  it('is found again when it is plugged in again', async () => {
    const pair = await cable();
    const bench = await startPtyBench(pair, scenario);
    const lost = Promise.withResolvers<void>();
    const meter = await meterAt(pair.near, () => lost.resolve());
    await pair.unplug();
    await lost.promise;
    const again = reconnectMeter(pair.near, meter.identity, { ...options(), signal: new AbortController().signal });
    await bench.stop();
    await pair.plugIn();
    processes.push(await startPtyBench(pair, scenario));
    const returned = performance.now();
    const found = await again;
    opened.push(found);
    expect(performance.now() - returned).toBeLessThan(BACK_WITHIN_MILLISECONDS);
    await found.configure({ function: '2-wire', range: 'auto', integrationCycles: 1 });
    expect(await found.read()).toMatchObject({ kind: 'overload' });
  });
});
