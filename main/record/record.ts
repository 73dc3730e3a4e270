import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Entry } from '../../core/contract/contract.ts';
import { type InspectionEvent, inspectionEvent } from '../../core/inspection/event.ts';
import { type Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';
import { CHAIN_START, entryHash } from './hashChain.ts';

/** Version of the tables below, kept in the file (`PRAGMA user_version`). */
const SCHEMA_VERSION = 1;
/** "Reel" in ASCII: lets `file` and us tell this record from any other SQLite file (`PRAGMA application_id`). */
const APPLICATION_ID = 0x5265656c;

/**
 * Entries are only ever added; the triggers stop a slip, the chain of hashes shows a deed. There is no index by run: it
 * would be written at every reading, and a run's first and last place are known without.
 */
const SCHEMA = `
  CREATE TABLE entry (
    position INTEGER PRIMARY KEY,
    run      INTEGER NOT NULL,
    event    TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash     TEXT NOT NULL
  ) STRICT;
  CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
  CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
`;

interface Row {
  position: number;
  run: number;
  event: string;
  previous: string;
  hash: string;
}

/** The record of a station: one SQLite file, append-only, one writer. */
export interface Record {
  readonly file: string;
  /** Keeps the events of a run, all or none. When it returns they are on the disk. @throws problems record-full, record-failed */
  append(run: number, events: readonly InspectionEvent[]): Entry[];
  /** All entries in order, or those of one run. @throws problem record-altered at the first that does not fit */
  entries(run?: number): Generator<Entry>;
  /** How many entries there are. */
  size(): number;
  /** The number for the next run. */
  nextRun(): number;
  close(): void;
}

/**
 * Opens the record in a folder, making both where needed. A second station on the same folder is refused for as long as
 * the first lives: the lock is the operating system's on a file beside the record, so it ends with the process however
 * that ends, and readers of the record itself are not kept out.
 * @throws problems record-in-use, record-unusable, record-altered
 */
export function openRecord(folder: string): Record {
  const file = join(folder, 'reelohm.sqlite');
  let lock: Database.Database | undefined;
  let database: Database.Database | undefined;
  try {
    mkdirSync(folder, { recursive: true });
    lock = takeLock(join(folder, 'reelohm.lock'), file);
    database = new Database(file);
    prepare(database, file);
    return recordOver(database, lock, file);
  } catch (thrown) {
    database?.close();
    lock?.close();
    throw asRecordProblem(thrown, file);
  }
}

function takeLock(lockFile: string, recordFile: string): Database.Database {
  const lock = new Database(lockFile, { timeout: 0 });
  try {
    lock.exec('BEGIN EXCLUSIVE');
    return lock;
  } catch (thrown) {
    lock.close();
    throw codeOf(thrown) === 'SQLITE_BUSY' ? problem('record-in-use', recordFile) : thrown;
  }
}

function prepare(database: Database.Database, file: string): void {
  const version = database.pragma('user_version', { simple: true }) as number;
  if (version > SCHEMA_VERSION) {
    throw problem('record-unusable', file, `it was made by a newer version (schema ${version})`);
  }
  database.pragma('journal_mode = WAL');
  // In WAL only FULL syncs at each commit: a reading that was shown must outlive a power cut.
  database.pragma('synchronous = FULL');
  // On macOS only this flushes the drive's own cache (SQLite documentation, PRAGMA fullfsync); elsewhere it does nothing.
  database.pragma('fullfsync = ON');
  if (version === 0) {
    database.transaction(() => {
      database.exec(SCHEMA);
      database.pragma(`application_id = ${APPLICATION_ID}`);
      database.pragma(`user_version = ${SCHEMA_VERSION}`);
    })();
  }
}

function recordOver(database: Database.Database, lock: Database.Database, file: string): Record {
  const insert = database.prepare('INSERT INTO entry (position, run, event, previous, hash) VALUES (?, ?, ?, ?, ?)');
  const all = database.prepare<[], Row>('SELECT * FROM entry ORDER BY position');
  const ofRun = database.prepare<[first: number, last: number, run: number], Row>(
    'SELECT * FROM entry WHERE position BETWEEN ? AND ? AND run = ? ORDER BY position',
  );
  const last = database.prepare<[], Row>('SELECT * FROM entry ORDER BY position DESC LIMIT 1').get();
  let position = last?.position ?? 0;
  let hash = last?.hash ?? CHAIN_START;
  const places = placesOfRuns(database);
  let lastRun = [...places.keys()].at(-1) ?? 0;

  const keep = database.transaction((run: number, events: readonly InspectionEvent[]): Entry[] => {
    let previous = hash;
    return events.map((event, index) => {
      // What could not be read back must not be written: it would close the whole record.
      const text = JSON.stringify(inspectionEvent.parse(event));
      const entry = { position: position + index + 1, run, event, previous, hash: '' };
      entry.hash = entryHash(previous, entry.position, run, text);
      insert.run(entry.position, run, text, previous, entry.hash);
      previous = entry.hash;
      return entry;
    });
  });

  return {
    file,
    append(run, events) {
      try {
        const entries = keep(run, events);
        const newest = entries.at(-1);
        if (newest) {
          ({ position, hash } = newest);
          places.set(run, { first: places.get(run)?.first ?? entries[0]?.position ?? position, last: position });
          lastRun = Math.max(lastRun, run);
        }
        return entries;
      } catch (thrown) {
        if (/^SQLITE_(FULL|IOERR)/.test(codeOf(thrown) ?? '')) throw problem('record-full', wordsOf(thrown));
        throw problem('record-failed', wordsOf(thrown));
      }
    },
    *entries(run) {
      let expected = CHAIN_START;
      const place = places.get(run ?? 0) ?? { first: 0, last: -1 };
      for (const row of run === undefined ? all.iterate() : ofRun.iterate(place.first, place.last, run)) {
        const follows = run !== undefined || row.previous === expected;
        if (!follows || row.hash !== entryHash(row.previous, row.position, row.run, row.event)) {
          throw problem('record-altered', row.position);
        }
        expected = row.hash;
        yield { ...row, event: eventOf(row) };
      }
    },
    size: () => position,
    nextRun: () => lastRun + 1,
    close() {
      database.close();
      lock.close();
    },
  };
}

/** Where each run's entries begin and end; between them other runs' entries may stand. */
function placesOfRuns(database: Database.Database): Map<number, { first: number; last: number }> {
  const rows = database
    .prepare<[], { run: number; first: number; last: number }>(
      'SELECT run, min(position) AS first, max(position) AS last FROM entry GROUP BY run ORDER BY run',
    )
    .all();
  return new Map(rows.map(({ run, first, last }) => [run, { first, last }]));
}

/** An event as it stands in the file; what is no event was not written by us. */
function eventOf(row: Row): InspectionEvent {
  try {
    return inspectionEvent.parse(JSON.parse(row.event));
  } catch {
    throw problem('record-altered', row.position);
  }
}

function asRecordProblem(thrown: unknown, file: string): Problem | Error {
  if (thrown instanceof Error && thrown.name === 'Problem') return thrown;
  return problem('record-unusable', file, wordsOf(thrown));
}
