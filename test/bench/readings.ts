import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ReadlineParser } from '@serialport/parser-readline';
import Database from 'better-sqlite3';
import { SerialPort } from 'serialport';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import type { Record } from '../../main/record/record.ts';
import { openStation } from '../../main/station/station.ts';
import { openPtyPair } from '../instruments/ptyPair.ts';

const QUERIES = 4000;
const WARM_UP = 2000;
const ROUNDS = 8;
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
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await once(responder.stdout, 'data');
  const rates: ReadingRates = { bare: [], bareDurable: [], recordOff: [], durable: [] };
  try {
    const ways: [keyof ReadingRates, () => Promise<number>][] = [
      ['bare', () => bareLoop(pair.near)],
      ['bareDurable', () => bareLoopDurable(pair.near)],
      ['recordOff', () => wholeStation(pair.near, false)],
      ['durable', () => wholeStation(pair.near, true)],
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

async function wholeStation(path: string, durable: boolean): Promise<number> {
  const data = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const folders = { data, certificates: join(data, 'certificates') };
  const station = openStation({ folders, version: 'bench', ...(durable ? {} : { record: noRecord() }) });
  let heard = 0;
  station.listen(() => {
    heard += 1;
  });
  const size = 2 * (QUERIES + WARM_UP);
  const { run } = await station.ask('receive-lot', {
    claim: {
      inspector: 'bench',
      part: { number: 'bench', nominal: '4k7', tolerance: '1 %' },
      lot: { number: 'bench', size },
      plan: { sampleSize: size, accept: 0 },
    },
  });
  await station.ask('connect-meter', { run, address: path });
  await station.ask('confirm-bench', { run, by: 'bench', cautions: [...CAUTIONS] });
  heard = 0;
  const rate = await queriesPerSecond(() => station.ask('take-reading', { run }));
  if (heard !== QUERIES + WARM_UP) throw new Error(`${heard} events were heard of ${QUERIES + WARM_UP}`);
  await station.close();
  rmSync(data, { recursive: true });
  return rate;
}

async function queriesPerSecond(query: () => Promise<unknown>): Promise<number> {
  for (let index = 0; index < WARM_UP; index++) await query();
  const began = performance.now();
  for (let index = 0; index < QUERIES; index++) await query();
  return (QUERIES * 1000) / (performance.now() - began);
}

/** No record at all: what keeping the readings costs is the difference. */
function noRecord(): Record {
  let position = 0;
  return {
    file: 'none',
    append: (run, events) => {
      position += events.length;
      return events.map((event) => ({ position, run, event, previous: '', hash: '' }));
    },
    entries: function* () {},
    nextRun: () => 1,
    close: () => undefined,
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
