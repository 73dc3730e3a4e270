import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { EntryOf, RecordEntry } from '../../core/contract/contract.ts';
import { type RecordEvent, readRecordEvent } from '../../core/contract/recordEvent.ts';
import { type Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../../core/progress/progress.ts';
import { codeOf } from '../codeOf.ts';
import { checkingTail } from './checkTail.ts';
import { type ContinuityRow, type ContinuityRows, continuityRows } from './continuityRows.ts';
import { entryOf, entryRows, type Follows, THE_START } from './entryRows.ts';
import { entryHash } from './hashChain.ts';
import { markOpened, mustReachMarks, setMark } from './marks.ts';
import type { RunRow } from './runRow.ts';
import { type RunRows, runRows } from './runRows.ts';
import { migrating, remakeRunTables, versionOf } from './schema.ts';
import { Stretches } from './stretches.ts';

/** The name of a record in its folder. */
export const RECORD_FILE = 'reelohm.sqlite';

/** Bytes that the log may keep on the disk once it is written into the file; while others read for long it grows beyond. */
const LOG_BYTES = 8_388_608;

/** The record of a station: one SQLite file, append-only, one writer. README.md says what stands in it. */
export interface Record {
  readonly file: string;
  /** What the tables of runs answer. */
  readonly rows: RunRows;
  /** What the table of continuity runs answers. */
  readonly continuity: ContinuityRows;
  /**
   * Keeps the events of a run, all or none. When it returns they are on the disk.
   * @param row the run as they make it, kept together with them; without one its row is made at the next start
   * @throws problems record-full, record-failed
   */
  append<E extends RecordEvent>(run: number, events: readonly E[], row?: RunRow | ContinuityRow | null): EntryOf<E>[];
  /**
   * All entries in order, or those of one run, there may be others between; only those behind a place where one is given. Each is
   * checked. Others may write while it is gone through; what they add is not among them.
   * @throws problem record-altered at the first that does not fit
   */
  entries(run?: number, behind?: number): Generator<RecordEntry>;
  /** Place of the last entry of a run, and how many it has; null where there is no such run. */
  extentOf(run: number): { last: number; count: number } | null;
  /** How many entries there are. */
  size(): number;
  /** The number for the next run. */
  nextRun(): number;
  /** Checks what was added since the chain was last checked, see checkTail.ts. @throws problem record-altered */
  checkingTail(tell: TellProgress): Generator<undefined, void>;
  /** The last entry, for whoever checks the whole. */
  end(): Follows;
  /** All up to there was checked. */
  markChecked(upTo: Follows): void;
  /** Takes away all that was made of the entries: `rows.stale` then has every run. */
  forgetRows(): void;
  close(): void;
}

/**
 * Opens the record in a folder, making both where needed. A second station on the same folder is refused for as long as
 * the first lives: the lock is the operating system's on a file beside the record, so it ends with the process however
 * that ends, and readers of the record itself are not kept out.
 * @throws problems record-in-use, record-unusable, record-altered, record-cut
 */
export function openRecord(folder: string): Record {
  const opening = openingRecord(folder);
  for (;;) {
    const { done, value } = opening.next();
    if (done) return value;
  }
}

/**
 * Likewise, a little at a time where the tables are of an earlier version. Whatever keeps it from being opened at all is thrown
 * before it first yields.
 */
export function* openingRecord(folder: string, tell: TellProgress = TELL_NOBODY): Generator<undefined, Record> {
  const file = join(folder, RECORD_FILE);
  let lock: Database.Database | undefined;
  let database: Database.Database | undefined;
  let isOpen = false;
  try {
    mkdirSync(folder, { recursive: true });
    lock = lockRecord(folder);
    database = new Database(file);
    versionOf(database, file);
    setUp(database);
    yield* migrating(database, file, tell);
    const record = recordOver(database, lock, file);
    isOpen = true;
    return record;
  } catch (thrown) {
    throw asRecordProblem(thrown, file);
  } finally {
    if (!isOpen) {
      database?.close();
      lock?.close();
    }
  }
}

/** Holds the record of a folder until it is closed, or the process ends. @throws problem record-in-use */
export function lockRecord(folder: string): Database.Database {
  const lock = new Database(join(folder, 'reelohm.lock'), { timeout: 0 });
  try {
    lock.exec('BEGIN EXCLUSIVE');
    return lock;
  } catch (thrown) {
    lock.close();
    throw codeOf(thrown) === 'SQLITE_BUSY' ? problem('record-in-use', join(folder, RECORD_FILE)) : thrown;
  }
}

/** @param database also of a record that is written in another place, before it gets its name */
export function setUp(database: Database.Database): void {
  database.pragma('journal_mode = WAL');
  database.pragma(`journal_size_limit = ${LOG_BYTES}`);
  // In WAL only FULL syncs at each commit: a reading that was shown must outlive a power cut.
  database.pragma('synchronous = FULL');
  // On macOS only this flushes the drive's own cache (SQLite documentation, PRAGMA fullfsync); elsewhere it does nothing.
  database.pragma('fullfsync = ON');
}

/** The last entry of a database, or what the first one follows. */
export function endOf(database: Database.Database): Follows {
  const row = database.prepare('SELECT position, hash FROM entry ORDER BY position DESC LIMIT 1').get() as
    | { position: number; hash: Buffer }
    | undefined;
  return row ? { position: row.position, hash: row.hash.toString('hex') } : THE_START;
}

function recordOver(database: Database.Database, lock: Database.Database, file: string): Record {
  let end = endOf(database);
  mustReachMarks(database, end);
  /** That it is open is written with the first entry: a record can be opened where there is no room. */
  let isMarkedOpen = false;
  const insert = database.prepare('INSERT INTO entry (position, run, event, previous, hash) VALUES (?, ?, ?, ?, ?)');
  const stretches = new Stretches(database);
  const rows = runRows(database, () => end.position);
  const continuity = continuityRows(database);

  const keep = database.transaction(
    (run: number, events: readonly RecordEvent[], row: RunRow | ContinuityRow | null): RecordEntry[] => {
      if (!isMarkedOpen) markOpened(database, end);
      let previous = Buffer.from(end.hash, 'hex');
      stretches.goOn(run, end.position + 1);
      const entries = events.map((event, index) => {
        // What could not be read back must not be written: it would close the whole record.
        const text = JSON.stringify(readRecordEvent(event));
        const entry = { position: end.position + index + 1, run, event, previous: previous.toString('hex'), hash: '' };
        entry.hash = entryHash(entry.previous, entry.position, run, text);
        const hash = Buffer.from(entry.hash, 'hex');
        insert.run(entry.position, run, text, previous, hash);
        previous = hash;
        return entry;
      });
      const upTo = end.position + events.length;
      if (row && 'pointCount' in row) continuity.keep([{ ...row, upTo }]);
      else if (row) rows.keep([{ ...row, upTo }]);
      return entries;
    },
  );

  return {
    file,
    rows,
    continuity,
    append<E extends RecordEvent>(run: number, events: readonly E[], row: RunRow | ContinuityRow | null = null) {
      if (events.length === 0) return [];
      try {
        const entries = keep(run, events, row) as EntryOf<E>[];
        end = entries.at(-1) ?? end;
        isMarkedOpen = true;
        stretches.kept(run);
        return entries;
      } catch (thrown) {
        if (/^SQLITE_(FULL|IOERR)/.test(codeOf(thrown) ?? '')) throw problem('record-full', wordsOf(thrown));
        throw problem('record-failed', wordsOf(thrown));
      }
    },
    *entries(run, behind = 0) {
      if (run === undefined) {
        for (const row of entryRows(database, { from: 1, upTo: end.position, after: THE_START })) {
          if (row.position > behind) yield entryOf(row);
        }
        return;
      }
      for (const { first, last } of stretches.of(run, end.position)) {
        if (last <= behind) continue;
        for (const row of entryRows(database, { from: Math.max(first, behind + 1), upTo: last, after: null })) {
          if (row.run !== run) throw problem('record-altered', row.position);
          yield entryOf(row);
        }
      }
    },
    extentOf(run) {
      const all = stretches.of(run, end.position);
      const newest = all.at(-1);
      return newest
        ? { last: newest.last, count: all.reduce((sum, { first, last }) => sum + last - first + 1, 0) }
        : null;
    },
    size: () => end.position,
    nextRun: () => stretches.lastRun + 1,
    checkingTail: (tell) => checkingTail(database, end, tell),
    end: () => end,
    markChecked: (upTo) => setMark(database, 'checked', upTo),
    forgetRows: () => database.transaction(() => remakeRunTables(database))(),
    close() {
      if (!database.open) return;
      try {
        if (isMarkedOpen) setMark(database, 'closed', end);
      } catch {
        // A full disk: the next start finds that it was not closed, and checks what was added.
      }
      database.close();
      lock.close();
    },
  };
}

function asRecordProblem(thrown: unknown, file: string): Problem | Error {
  if (thrown instanceof Error && thrown.name === 'Problem') return thrown;
  return problem('record-unusable', file, wordsOf(thrown));
}
