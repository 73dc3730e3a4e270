import { type ChildProcess, execFile, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ReadStream } from 'node:tty';
import { promisify } from 'node:util';
import { ReadlineParser } from '@serialport/parser-readline';
import { SerialPort } from 'serialport';
import { connectMeter, reconnectMeter } from '../../instruments/meter/connect.ts';
import type { Meter } from '../../instruments/meter/meter.ts';
import { Session } from '../../instruments/scpi/session.ts';
import { openTransport, readAddress } from '../../instruments/transport/address.ts';
import { openPtyPair, type PtyPair } from '../instruments/ptyPair.ts';
import { pythonWith } from './python.ts';

const QUERIES = 4000;
const WARM_UP = 2000;
const ROUNDS = 6;
const PACED_QUERIES = 60;
const PACED_WARM_UP = 10;
/** Start bit, 8 data bits and stop bit. */
const BITS_OF_A_CHARACTER = 10;

const PYSERIAL_LOOP = `
import sys, time, serial
port = serial.Serial(sys.argv[1], 9600)
def query():
    port.write(b'READ?\\n')
    port.read_until(b'\\n')
for _ in range(int(sys.argv[2])): query()
began = time.monotonic()
for _ in range(int(sys.argv[3])): query()
print(int(sys.argv[3]) / (time.monotonic() - began))
`;

/** Queries a second of each way, one list entry a round; a way that is not on this machine has none. */
export interface LineRates {
  bare: number[];
  session: number[];
  meter: number[];
  pyserial: number[];
  termios: number[];
}

/**
 * Queries a second over one pseudo-terminal and one responder, in turn within each round: a bare loop of the serialport
 * package, our session with each answer paired, our whole meter (which asks value, function and event status together),
 * a bare pyserial loop, and a C loop.
 */
export async function measureLine(): Promise<LineRates> {
  const rates: LineRates = { bare: [], session: [], meter: [], pyserial: [], termios: [] };
  const tools = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const termios = compiledTermiosLoop(tools);
  const python = pythonWith('serial', 'python3-serial');
  await withResponder(null, async ({ near }) => {
    const ways: [keyof LineRates, () => Promise<number>][] = [
      ['bare', () => bareLoop(near)],
      ['session', () => sessionLoop(near)],
      ['meter', () => meterLoop(near)],
    ];
    const outside = async (command: string, before: string[]) =>
      Number(await said(command, [...before, near, String(WARM_UP), String(QUERIES), 'READ?\n']));
    if (python) ways.push(['pyserial', () => outside(python, ['-c', PYSERIAL_LOOP])]);
    if (termios) ways.push(['termios', () => outside(termios, [])]);
    for (let round = 0; round < ROUNDS; round++) {
      // Another one begins each round, so that none always follows the same other.
      for (let turn = 0; turn < ways.length; turn++) {
        const [way, measure] = ways[(round + turn) % ways.length] as (typeof ways)[number];
        rates[way].push(await measure());
      }
    }
  });
  rmSync(tools, { recursive: true });
  return rates;
}

/** What share of what the line can carry is reached at a baud rate, each way with the same bytes. */
export interface PacedShares {
  meter: number;
  /** The serialport package alone. */
  bare: number;
  /** Node without that package: the terminal read as a stream, written synchronously. */
  terminal: number;
  /** C alone; null where there is no compiler. What is missing here is the measurement's own. */
  termios: number | null;
}

export async function measurePaced(baud: number): Promise<PacedShares> {
  const tools = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const termiosLoop = compiledTermiosLoop(tools);
  return withResponder(baud, async ({ near }) => {
    const meter = await connect(near);
    const question = '*ESE 128;*ESE?;:READ?;:FUNC?;*ESR?;*ESE?\n';
    const bytes = question.length + '128;+4.71400E+03;"RES";0;128\n'.length;
    const ideal = (bytes * BITS_OF_A_CHARACTER * 1000) / baud;
    const ours = await millisecondsEach(() => meter.read());
    await meter.close();
    const port = await openBare(near);
    const bare = await millisecondsEach(() => port.query(question));
    await port.close();
    const terminal = await terminalLoop(near, question);
    const counts = [String(PACED_WARM_UP), String(PACED_QUERIES)];
    const rate = termiosLoop === null ? null : Number(await said(termiosLoop, [near, ...counts, question]));
    const termios = rate === null ? null : (rate * ideal) / 1000;
    rmSync(tools, { recursive: true });
    return { meter: ideal / ours, bare: ideal / bare, terminal: ideal / terminal, termios };
  });
}

/** From the return of a pulled adapter until the same meter is connected again and set, in milliseconds. */
export async function measureReconnect(): Promise<number> {
  const pair = await openPtyPair();
  let responder = await startResponder(pair.far, null);
  const lost = Promise.withResolvers<void>();
  const options = { random: Math.random, bench: {}, onLost: () => lost.resolve() };
  try {
    const meter = await connectMeter(pair.near, options);
    await pair.unplug();
    await lost.promise;
    await meter.close();
    const back = reconnectMeter(pair.near, meter.identity, { ...options, signal: new AbortController().signal });
    await new Promise((passed) => setTimeout(passed, 3000));
    await pair.plugIn();
    responder.kill();
    responder = await startResponder(pair.far, null);
    const began = performance.now();
    const again = await back;
    await set(again);
    await again.read();
    const taken = performance.now() - began;
    await again.close();
    return taken;
  } finally {
    responder.kill();
    await pair.stop();
  }
}

async function withResponder<T>(baud: number | null, use: (pair: PtyPair) => Promise<T>): Promise<T> {
  const pair = await openPtyPair();
  const responder = await startResponder(pair.far, baud);
  try {
    return await use(pair);
  } finally {
    responder.kill();
    await pair.stop();
  }
}

async function startResponder(far: string, baud: number | null): Promise<ChildProcess> {
  const script = join(import.meta.dirname, 'responder.ts');
  const responder = spawn(process.execPath, [script, far, ...(baud === null ? [] : [String(baud)])], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await once(responder.stdout, 'data');
  return responder;
}

async function bareLoop(path: string): Promise<number> {
  const port = await openBare(path);
  const rate = await queriesPerSecond(() => port.query('READ?\n'));
  await port.close();
  return rate;
}

async function openBare(path: string) {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((failure) => (failure ? reject(failure) : resolve())));
  const parser = port.pipe(new ReadlineParser({ delimiter: '\n', encoding: 'latin1' }));
  let answered: (line: string) => void = () => undefined;
  parser.on('data', (line: string) => answered(line));
  return {
    query: (question: string) =>
      new Promise<unknown>((resolve) => {
        answered = resolve;
        port.write(question);
      }),
    close: () => new Promise<void>((resolve) => port.close(() => resolve())),
  };
}

/** Milliseconds each of a loop over the terminal as Node has it. */
async function terminalLoop(path: string, question: string): Promise<number> {
  const file = openSync(path, 'r+');
  const input = new ReadStream(file);
  input.setRawMode(true);
  let answered: () => void = () => undefined;
  let rest = '';
  input.on('data', (chunk: Buffer) => {
    rest += chunk.toString('latin1');
    if (!rest.endsWith('\n')) return;
    rest = '';
    answered();
  });
  const taken = await millisecondsEach(
    () =>
      new Promise<void>((resolve) => {
        answered = resolve;
        writeSync(file, question);
      }),
  );
  input.destroy();
  return taken;
}

/** What a program says on its standard output. */
async function said(command: string, given: string[]): Promise<string> {
  return (await promisify(execFile)(command, given)).stdout;
}

async function sessionLoop(path: string): Promise<number> {
  const address = readAddress(path);
  if (address.kind === 'sim') throw new Error('not a line');
  const session = new Session(await openTransport(address), {
    random: Math.random,
    ways: {
      compound: true,
      proof: { set: '*ESE {number}', ask: '*ESE?', largest: 255 },
      longestCommand: null,
      delayMilliseconds: 0,
    },
    onLost: (why) => {
      throw why;
    },
  });
  const rate = await queriesPerSecond(() => session.ask(['READ?'], 2000));
  await session.close();
  return rate;
}

async function meterLoop(path: string): Promise<number> {
  const meter = await connect(path);
  const rate = await queriesPerSecond(() => meter.read());
  await meter.close();
  return rate;
}

async function connect(path: string): Promise<Meter> {
  const meter = await connectMeter(path, { random: Math.random, bench: {}, onLost: () => undefined });
  await set(meter);
  return meter;
}

function set(meter: Meter) {
  return meter.configure({ function: '2-wire', range: { coversOhms: '4747' }, integrationCycles: 1 });
}

async function queriesPerSecond(query: () => Promise<unknown>): Promise<number> {
  for (let index = 0; index < WARM_UP; index++) await query();
  const began = performance.now();
  for (let index = 0; index < QUERIES; index++) await query();
  return (QUERIES * 1000) / (performance.now() - began);
}

async function millisecondsEach(query: () => Promise<unknown>): Promise<number> {
  for (let index = 0; index < PACED_WARM_UP; index++) await query();
  const began = performance.now();
  for (let index = 0; index < PACED_QUERIES; index++) await query();
  return (performance.now() - began) / PACED_QUERIES;
}

/** The C loop, compiled; null where there is no compiler. */
function compiledTermiosLoop(folder: string): string | null {
  const program = join(folder, 'termiosLoop');
  const compiled = spawnSync('cc', ['-O2', '-o', program, join(import.meta.dirname, 'termiosLoop.c')]);
  if (compiled.status === 0) return program;
  console.log('SKIPPED: the C termios loop, because there is no C compiler here (cc)');
  return null;
}
