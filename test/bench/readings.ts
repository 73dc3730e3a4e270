import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { ReadlineParser } from '@serialport/parser-readline';
import Database from 'better-sqlite3';
import { SerialPort } from 'serialport';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import { CHECKS } from '../../core/readiness/check.ts';
import type { Record } from '../../main/record/record.ts';
import { openStation, type Station } from '../../main/station/station.ts';
import { openPtyPair } from '../instruments/ptyPair.ts';
import { recordInMemory } from './screen/seededRecord.ts';

const QUERIES = 4000;
const WARM_UP = 2000;
const ROUNDS = 8;
/** After as many readings the bench is checked again, which is not what is measured. */
const READINGS_OF_A_ROUND = 1000;
/** About what one reading takes in the record. */
const ENTRY_BYTES = 330;

/** Queries a second of the three ways, one list entry a round. */
export interface ReadingRates {
  bare: number[];
  /** The bare loop with a bare durable insert for each answer. */
  bareDurable: number[];
  recordOff: number[];
  durable: number[];
}

/**
 * Queries a second over one pseudo-terminal and one responder, in turn within each round: a bare request and response
 * loop of the serialport package without and with one
 * bare durable insert an answer, then the whole station (transport, session, verdict, event out) without and with the
 * durable record.
 */
export async function measureReadings(): Promise<ReadingRates> {
  const pair = await openPtyPair();
  const responder = spawn(process.execPath, [join(import.meta.dirname, 'responder.ts'), pair.far], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  await once(responder.stdout, 'data');
  const rates: ReadingRates = { bare: [], bareDurable: [], recordOff: [], durable: [] };
  try {
    const ways: [keyof ReadingRates, () => Promise<number>][] = [
      ['bare', () => bareLoop(pair.near)],
      ['bareDurable', () => bareLoopDurable(pair.near)],
      ['recordOff', () => wholeStation(pair.near, responder, false)],
      ['durable', () => wholeStation(pair.near, responder, true)],
    ];
    for (let round = 0; round < ROUNDS; round++) {
      // Another one begins each round, so that none always follows the same other.
      for (let turn = 0; turn < ways.length; turn++) {
        const [way, measure] = ways[(round + turn) % ways.length] as (typeof ways)[number];
        rates[way].push(await measure());
      }
    }
  } finally {
    responder.kill();
    await pair.stop();
  }
  return rates;
}

async function bareLoopDurable(path: string): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const { keep, close } = bareInsert(folder);
  const rate = await bareLoop(path, keep);
  close();
  rmSync(folder, { recursive: true });
  return rate;
}

async function bareLoop(path: string, keep: (answer: string) => void = () => undefined): Promise<number> {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((failure) => (failure ? reject(failure) : resolve())));
  const parser = port.pipe(new ReadlineParser({ delimiter: '\n', encoding: 'latin1' }));
  let answered: (line: string) => void = () => undefined;
  parser.on('data', (line: string) => {
    keep(line);
    answered(line);
  });
  const rate = await queriesPerSecond(
    () =>
      new Promise<unknown>((resolve) => {
        answered = resolve;
        port.write('READ?\n');
      }),
  );
  await new Promise<void>((resolve) => port.close(() => resolve()));
  return rate;
}

type Responder = ChildProcessByStdio<Writable, Readable, null>;

async function wholeStation(path: string, responder: Responder, durable: boolean): Promise<number> {
  const data = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const folders = { data, certificates: join(data, 'certificates') };
  const station = openStation({ folders, version: 'bench', ...(durable ? {} : { record: noRecord() }) });
  let heard = 0;
  station.listen((news) => {
    if (news.kind === 'entry' && news.entry.event.type === 'reading-taken') heard += 1;
  });
  const size = 2 * (QUERIES + WARM_UP);
  const { run } = await station.ask('receive-lot', {
    claim: {
      inspector: 'bench',
      part: { number: 'bench', nominal: '4k7', tolerance: '1 %' },
      lot: { number: 'bench', size },
      plan: { sampleSize: size, accept: 0 },
      checks: { everyReadings: READINGS_OF_A_ROUND },
    },
  });
  await station.ask('connect-meter', { run, address: path });
  await station.ask('confirm-bench', { run, by: 'bench', cautions: [...CAUTIONS] });
  await station.ask('override-calibration', { run, by: 'bench', reason: 'an answering machine' });
  const rate = await queriesPerSecond(
    () => station.ask('take-reading', { run }),
    () => checkBench(station, run, responder),
  );
  if (heard !== QUERIES + WARM_UP) throw new Error(`${heard} events were heard of ${QUERIES + WARM_UP}`);
  await station.close();
  rmSync(data, { recursive: true });
  return rate;
}

/** Does the checks of the bench, the answering machine reading what each of them wants. */
async function checkBench(station: Station, run: number, responder: Responder): Promise<void> {
  const tell = async (ohms: string) => {
    const heard = once(responder.stdout, 'data');
    responder.stdin.write(`${ohms}\n`);
    await heard;
  };
  for (const check of CHECKS) {
    await tell(check === 'open-leads' ? '+9.9E+37' : check === 'shorted-leads' ? '+1.0E-01' : '');
    const waived = check === 'reference' ? { waived: 'an answering machine' } : {};
    const celsius = check === 'ambient' ? { celsius: '23' } : {};
    const { entry } = await station.ask('check-bench', { run, by: 'bench', check, ...waived, ...celsius });
    if (entry.event.type === 'bench-checked' && entry.event.outcome === 'failed') throw new Error(entry.event.why);
  }
}

/** @param between what is done before each so many queries, and is not measured */
async function queriesPerSecond(
  query: () => Promise<unknown>,
  between: () => Promise<void> = async () => undefined,
): Promise<number> {
  let milliseconds = 0;
  for (let index = 0; index < WARM_UP + QUERIES; index += READINGS_OF_A_ROUND) {
    await between();
    const began = performance.now();
    for (let done = 0; done < READINGS_OF_A_ROUND; done++) await query();
    if (index >= WARM_UP) milliseconds += performance.now() - began;
  }
  return (QUERIES * 1000) / milliseconds;
}

/** No record at all: what keeping the readings costs is the difference. */
function noRecord(): Record {
  let position = 0;
  return {
    ...recordInMemory([]),
    append: (run, events) => {
      position += events.length;
      return events.map((event) => ({ position, run, event, previous: '', hash: '' }));
    },
  };
}

/** The least that durability costs: one bare prepared insert an answer, with the record's pragmas. */
function bareInsert(folder: string): { keep: (answer: string) => void; close: () => void } {
  const database = new Database(join(folder, 'bare.sqlite'));
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = FULL');
  database.exec('CREATE TABLE answer (position INTEGER PRIMARY KEY, text TEXT NOT NULL)');
  const insert = database.prepare('INSERT INTO answer (text) VALUES (?)');
  return { keep: (answer) => insert.run(answer.padEnd(ENTRY_BYTES)), close: () => database.close() };
}
