import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { fold } from '../../core/inspection/apply.ts';
import type { InspectionEvent } from '../../core/inspection/event.ts';
import { factsOf, lotClaim } from '../../core/inspection/lotClaim.ts';
import { entryHash } from '../../main/record/hashChain.ts';
import { endOf, openRecord, RECORD_FILE, setUp } from '../../main/record/record.ts';
import { type RunRow, rowOf } from '../../main/record/runRow.ts';
import { runRows } from '../../main/record/runRows.ts';
import { migrating } from '../../main/record/schema.ts';
import { Stretches } from '../../main/record/stretches.ts';
import { openStation } from '../../main/station/station.ts';
import { exampleLot } from '../exampleLot.ts';

const COMMITS = 100;
const ROUNDS = 15;
/** Rows kept in one transaction. */
const AT_ONCE = 1000;
const QUESTIONS = 5;
const DAY = 86_400_000;
const FIRST_DAY = Date.parse('2016-01-04T08:00:00Z');
const AT = '2026-03-02T14:05:09.120+01:00';

/** Commits of one reading a second, one list entry a round. */
export interface CommitRates {
  /** A bare prepared insert of a text as long as a reading's, with the record's pragmas. */
  bare: number[];
  record: number[];
}

/** Single readings kept one by one, durable each, and as many bare inserts, in turn. */
export function measureCommits(): CommitRates {
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const record = openRecord(join(folder, 'record'));
  record.append(1, [received()]);
  const bare = new Database(join(folder, 'bare.sqlite'));
  setUp(bare);
  bare.exec('CREATE TABLE answer (position INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT');
  const insert = bare.prepare('INSERT INTO answer (text) VALUES (?)');
  let reading = 0;
  const text = JSON.stringify(readingOf(1));
  const ways = {
    bare: () => insert.run(text),
    record: () => record.append(1, [readingOf(++reading)]),
  };
  const rates: CommitRates = { bare: [], record: [] };
  // The first round warms up.
  for (let round = 0; round <= ROUNDS; round++) {
    const order = round % 2 === 0 ? (['bare', 'record'] as const) : (['record', 'bare'] as const);
    for (const way of order) {
      const began = performance.now();
      for (let commit = 0; commit < COMMITS; commit++) ways[way]();
      if (round > 0) rates[way].push((COMMITS * 1000) / (performance.now() - began));
    }
  }
  record.close();
  bare.close();
  rmSync(folder, { recursive: true });
  return rates;
}

/** Milliseconds. */
export interface HistoryTimes {
  entries: number;
  bytes: number;
  /** From the file to a station that answers. */
  start: number;
  /** The overview with its latest runs. */
  overview: number[];
  /** The first 50 rows of the history and how many there are, by what is looked for. */
  firstRows: Record<string, number[]>;
}

/** A station on a record of many runs. @param readings in each of them */
export async function measureHistory(runs: number, readings: number): Promise<HistoryTimes> {
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  try {
    const { entries, bytes } = makeHistory(join(folder, RECORD_FILE), runs, readings);
    const began = performance.now();
    const station = openStation({ folders: { data: folder, certificates: join(folder, 'c') }, version: 'bench' });
    const start = performance.now() - began;
    const overview = await timed(() => station.ask('overview', {}));
    const questions = {
      'all, the latest': {},
      'a part and supplier': { part: 'P-7', supplier: 'Supplier 3' },
      'a supplier, the earliest': { supplier: 'Supplier 3', order: 'earliest-first' },
      'on hold, in a month': { disposition: 'on-hold', from: '2020-05-01', to: '2020-05-31' },
      'a text that one lot has': { text: `lot ${Math.floor(runs / 3)}x` },
    } as const;
    const firstRows: Record<string, number[]> = {};
    for (const [what, question] of Object.entries(questions)) {
      const { total } = await station.ask('history', question);
      if (total === 0) throw new Error(`nothing was found: ${what}`);
      firstRows[`${what} (${total})`] = await timed(() => station.ask('history', question));
    }
    await station.close();
    return { entries, bytes, start, overview, firstRows };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function timed(question: () => Promise<unknown>): Promise<number[]> {
  const times: number[] = [];
  for (let time = 0; time < QUESTIONS; time++) {
    const began = performance.now();
    await question();
    times.push(performance.now() - began);
  }
  return times;
}

/** Writes a record of so many decided runs without waiting for the disk: what is measured is reading it. */
function makeHistory(file: string, runs: number, readings: number): { entries: number; bytes: number } {
  const database = new Database(file);
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = OFF');
  for (const _ of migrating(database, file, () => undefined));
  const insert = database.prepare('INSERT INTO entry (position, run, event, previous, hash) VALUES (?, ?, ?, ?, ?)');
  const stretches = new Stretches(database);
  const rows = runRows(database, () => 0);
  const begin = received();
  const end: InspectionEvent = {
    type: 'lot-decided',
    at: AT,
    by: 'bench',
    disposition: 'on-hold',
    reason: '',
    approvedBy: null,
  };
  const taken = Array.from({ length: readings }, (_, index) => readingOf(index + 1));
  const texts = [begin, ...taken, end].map((event) => JSON.stringify(event));
  const run = fold([begin, ...taken, end]);
  const template = run && rowOf(1, run, 0);
  if (!template) throw new Error('the run has no row');
  let position = 0;
  let previous = endOf(database).hash;
  for (let number = 1; number <= runs; ) {
    const batch: RunRow[] = [];
    database.transaction(() => {
      for (; batch.length < AT_ONCE && number <= runs; number++) {
        stretches.goOn(number, position + 1);
        stretches.kept(number);
        for (const text of texts) {
          position++;
          const hash = entryHash(previous, position, number, text);
          insert.run(position, number, text, Buffer.from(previous, 'hex'), Buffer.from(hash, 'hex'));
          previous = hash;
        }
        batch.push(lotRow(template, number, position));
      }
      rows.keep(batch);
    })();
  }
  database.pragma('wal_checkpoint(TRUNCATE)');
  const bytes = (database.pragma('page_count', { simple: true }) as number) * 4096;
  database.close();
  return { entries: position, bytes };
}

/** Runs of ten years, forty parts, twelve suppliers; one in nine on hold. */
function lotRow(template: RunRow, run: number, upTo: number): RunRow {
  const receivedAt = new Date(FIRST_DAY + Math.floor((run * 3650 * DAY) / 100_000)).toISOString();
  return {
    ...template,
    run,
    upTo,
    receivedAt,
    part: `P-${run % 40}`,
    supplier: `Supplier ${Math.floor(run / 40) % 12}`,
    lot: `Lot ${run}x`,
    disposition: run % 9 === 0 ? 'on-hold' : 'accepted',
  };
}

function received(): InspectionEvent {
  return { type: 'lot-received', at: AT, facts: factsOf(lotClaim.parse(exampleLot())) };
}

function readingOf(reading: number): Extract<InspectionEvent, { type: 'reading-taken' }> {
  return {
    type: 'reading-taken',
    at: AT,
    reading,
    piece: reading,
    position: reading * 7,
    raw: '+4.701234E+03',
    ohms: '4701.134',
    zeroOhms: '0.1',
    temperatureOhms: '0',
    uncertainty: { expandedOhms: '0.66', coverageFactor: '2.00' },
    verdict: 'pass',
  };
}
