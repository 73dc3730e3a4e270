import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { SerialPort } from 'serialport';
import { afterEach, describe, expect, it } from 'vitest';
import { findMeter } from '../../instruments/meter/findMeter.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { openPtyPair, type PtyPair, socatIsHere } from './ptyPair.ts';

const IDENTITY = 'Generic,Bench meter,1234,1.0';

const opened: { stop(): Promise<void> }[] = [];
afterEach(async () => {
  for (const each of opened.splice(0).reverse()) await each.stop();
});

interface Responder {
  /** Baud rate it understands; a pseudo-terminal keeps the one its user sets, so it can be looked up there. */
  baud?: number;
  end?: '\n' | '\r' | '\r\n';
  echo?: boolean;
  answer?: string[];
  milliseconds?: number;
}

/** A meter at the far end of a cable, and everything it was sent. */
async function cableTo({ baud, end = '\n', echo = false, answer = [IDENTITY], milliseconds = 0 }: Responder) {
  const pair: PtyPair = await openPtyPair();
  opened.push(pair);
  const far = new SerialPort({ path: pair.far, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => far.open((failure) => (failure ? reject(failure) : resolve())));
  opened.push({ stop: () => new Promise((resolve) => far.close(() => resolve())) });
  const heard: string[] = [];
  let rest = '';
  let answers = 0;
  far.on('data', (chunk: Buffer) => {
    if (echo) far.write(chunk);
    rest += chunk.toString('latin1');
    for (let at = rest.indexOf(end); at >= 0; at = rest.indexOf(end)) {
      const text = rest.slice(0, at);
      rest = rest.slice(at + end.length);
      heard.push(text);
      if (text !== '*IDN?' || (baud !== undefined && baud !== speedOf(pair.near))) continue;
      const said = answer[answers++ % answer.length];
      setTimeout(() => far.write(`${said}\r\n`, 'latin1'), milliseconds);
    }
  });
  return { pair, heard };
}

function speedOf(path: string): number {
  return Number(execFileSync('stty', ['-F', path, 'speed'], { encoding: 'utf8' }));
}

function search(path: string, over: { signal?: AbortSignal; answerMilliseconds?: number } = {}) {
  const tried: string[] = [];
  const found = findMeter(path, {
    onTry: ({ settings }) => tried.push(settings),
    signal: new AbortController().signal,
    ...over,
  });
  return { tried, found };
}

async function expectFree(path: string): Promise<void> {
  const port = new SerialPort({ path, baudRate: 9600 });
  await once(port, 'open');
  await new Promise((closed) => port.close(closed));
}

describe.skipIf(!socatIsHere())('finding a meter on a port', () => {
  it('finds one with the usual settings at once, and asks nothing but who it is', async () => {
    const { pair, heard } = await cableTo({});
    const { tried, found } = search(pair.near);
    expect(await found).toEqual({
      address: `${pair.near}?baud=9600`,
      identity: expect.objectContaining({ text: IDENTITY, serial: '1234', simulated: false }),
    });
    expect(tried).toEqual(['baud=9600']);
    expect(heard.length).toBeGreaterThanOrEqual(2);
    expect(new Set(heard)).toEqual(new Set(['*IDN?']));
  });

  it('tries the speeds in the order they are common, and gives an address that can be read', async () => {
    const { pair } = await cableTo({ baud: 57_600 });
    const { tried, found } = search(pair.near);
    const { address } = await found;
    expect(tried).toEqual(['baud=9600', 'baud=115200', 'baud=19200', 'baud=57600']);
    expect(readAddress(address)).toMatchObject({ kind: 'serial', path: pair.near, settings: { baudRate: 57_600 } });
  });

  it('finds the end of line a meter wants', async () => {
    const { pair } = await cableTo({ end: '\r\n' });
    expect((await search(pair.near).found).address).toBe(`${pair.near}?baud=9600&out=crlf`);
    const other = await cableTo({ end: '\r' });
    expect((await search(other.pair.near).found).address).toBe(`${other.pair.near}?baud=9600&out=cr`);
  });

  it('recognises an echo', async () => {
    const { pair } = await cableTo({ echo: true });
    expect((await search(pair.near).found).address).toBe(`${pair.near}?baud=9600&echo=on`);
  });

  it('waits longer for a meter that was heard to answer late, and blames no end of line for it', async () => {
    const { pair } = await cableTo({ milliseconds: 900 });
    const { tried, found } = search(pair.near);
    expect((await found).address).toBe(`${pair.near}?baud=9600`);
    expect(tried).toEqual(['baud=9600']);
  });

  it.each([
    ['what is no identity', ['+4.70213E+03'], '+4.70213E+03<0d>'],
    [
      'another identity each time',
      ['A,b,1,0', 'A,b,2,0', 'A,b,3,0', 'A,b,4,0', 'A,b,5,0', 'A,b,6,0', 'A,b,7,0'],
      'A,b,1,0',
    ],
    ['bytes that are no text', ['\u00ff\u0081,\u0090,1,2'], '<ff><81>,<90>,1,2'],
  ])('does not take %s for one, and tells what came', async (_, answer, came) => {
    const { pair } = await cableTo({ answer });
    const { tried, found } = search(pair.near, { answerMilliseconds: 20 });
    await expect(found).rejects.toMatchObject({ code: 'meter-not-found', what: expect.stringContaining(came) });
    expect(tried).toHaveLength(56);
    expect(new Set(tried).size).toBe(56);
    await expectFree(pair.near);
  });

  it('stops at once when it is told to, with the port free', async () => {
    const { pair } = await cableTo({ answer: ['nobody'] });
    const stop = new AbortController();
    const { found, tried } = search(pair.near, { signal: stop.signal, answerMilliseconds: 60_000 });
    await expect.poll(() => tried.length).toBe(1);
    const began = performance.now();
    stop.abort(new Error('enough'));
    await expect(found).rejects.toThrow('enough');
    expect(performance.now() - began).toBeLessThan(1500);
    await expectFree(pair.near);
  });

  it('names a port that is not there, or held by somebody else', async () => {
    await expect(search('/dev/no-such-port').found).rejects.toMatchObject({ code: 'meter-unreachable' });
    const { pair } = await cableTo({});
    const holder = new SerialPort({ path: pair.near, baudRate: 9600 });
    await once(holder, 'open');
    await expect(search(pair.near).found).rejects.toMatchObject({ code: 'port-busy' });
    await new Promise((closed) => holder.close(closed));
  });
});
