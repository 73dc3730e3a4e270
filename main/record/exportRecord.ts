import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { type FileHandle, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import Database from 'better-sqlite3';
import { stringify } from 'csv-stringify/sync';
import { safeText } from '../../core/certificate/safeText.ts';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { isMeterNumber } from '../../core/quantity/meterNumber.ts';
import { syncFolder } from '../certificates/fileBeingWritten.ts';
import type { GoingOn } from '../station/longWorks.ts';
import { type EntryRow, entryRows, type Follows, THE_START } from './entryRows.ts';
import { endOf } from './record.ts';
import { SCHEMA_VERSION, versionOf } from './schema.ts';

/** Entries written at one go: some hundredths of a second. */
const AT_ONE_GO = 1000;

/** What an export is made of, all in one folder. */
export const EXPORTED = {
  entries: 'entries.jsonl',
  lots: 'lots.csv',
  readings: 'readings.csv',
  continuity: 'continuity.csv',
} as const;

/** An export that is whole. */
export interface Exported {
  folder: string;
  entries: number;
  /** Hash of the last entry; an import of these entries ends with the same. */
  hash: string;
}

/**
 * Writes everything in a record in open formats into a new folder: every entry as a line of JSON, with its place and its hashes, and a last line that says how many; lots and
 * readings as CSV (the views of the same names), and continuity runs. Whoever writes to the record goes on meanwhile; the export is of how it was at the
 * beginning. Entries are checked as they are written; the folder gets its name when all is in it.
 * @throws problems record-altered, record-unusable, file-exists, file-unwritable, work-stopped
 */
export async function exportRecord(source: string, folder: string, going: GoingOn): Promise<Exported> {
  if (existsSync(folder)) throw problem('file-exists', folder);
  const temporary = join(dirname(folder), `.${randomBytes(6).toString('hex')}.part`);
  const database = new Database(source, { readonly: true, fileMustExist: true });
  try {
    if (versionOf(database, source) !== SCHEMA_VERSION) {
      throw problem('record-unusable', source, 'its tables are of an earlier version; open the station on it once');
    }
    await mkdir(temporary, { recursive: true });
    // All three of one moment.
    database.exec('BEGIN');
    const end = endOf(database);
    await writeTo(join(temporary, EXPORTED.entries), entryLines(database, end, going));
    await writeTo(join(temporary, EXPORTED.lots), csvOf(database, 'SELECT * FROM lots ORDER BY run'));
    await writeTo(join(temporary, EXPORTED.readings), csvOf(database, 'SELECT * FROM readings'));
    await writeTo(join(temporary, EXPORTED.continuity), csvOf(database, 'SELECT * FROM continuity_runs ORDER BY run'));
    going.throwIfStopped();
    await rename(temporary, folder);
    await syncFolder(dirname(folder));
    return { folder, entries: end.position, hash: end.hash };
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    throw problem('file-unwritable', folder, wordsOf(thrown));
  } finally {
    database.close();
    await rm(temporary, { recursive: true, force: true });
  }

  function* entryLines(from: Database.Database, end: Follows, { tell, throwIfStopped }: GoingOn): Generator<string> {
    const upTo = end.position;
    for (const row of entryRows(from, { from: 1, upTo, after: THE_START })) {
      yield lineOf(row);
      if (row.position % AT_ONE_GO !== 0 && row.position !== upTo) continue;
      throwIfStopped();
      tell({ step: 'entries', done: row.position, of: upTo });
    }
    yield endLineOf(end);
  }

  function* csvOf(from: Database.Database, sql: string): Generator<string> {
    const statement = from.prepare(sql).raw();
    yield stringify([statement.columns().map(({ name }) => name)], RFC_4180);
    let rows = 0;
    for (const row of statement.iterate() as Iterable<unknown[]>) {
      yield stringify([row.map(cellOf)], RFC_4180);
      rows++;
      if (rows % AT_ONE_GO === 0) going.throwIfStopped();
    }
  }
}

const RFC_4180 = { delimiter: ',', record_delimiter: '\r\n' } as const;

function cellOf(value: unknown): string {
  if (value === null) return '';
  // A meter's number may begin with a sign, which is no formula.
  const text = String(value);
  return typeof value === 'number' || isMeterNumber(text) ? text : safeText(text);
}

/** The text of the event as it stands in the record: by it the hash is made. */
function lineOf({ position, run, event, previous, hash }: EntryRow): string {
  return `{"position":${position},"run":${run},"event":${event},"previous":"${previous}","hash":"${hash}"}\n`;
}

/** The last line, so that it shows where lines are missing before it. */
function endLineOf({ position, hash }: Follows): string {
  return `{"entries":${position},"hash":"${hash}"}\n`;
}

/** Writes texts one behind the other, and lets others come to their turn. */
async function writeTo(file: string, texts: Iterable<string>): Promise<void> {
  const handle: FileHandle = await open(file, 'wx');
  try {
    let batch: string[] = [];
    for (const text of texts) {
      if (batch.push(text) < AT_ONE_GO) continue;
      await handle.appendFile(batch.join(''));
      batch = [];
      await setImmediate();
    }
    await handle.appendFile(batch.join(''));
    await handle.sync();
  } finally {
    await handle.close();
  }
}
