import type Database from 'better-sqlite3';
import { problem } from '../../../core/problem/problem.ts';
import { CHAIN_START, entryHash } from '../hashChain.ts';
import type { Migration } from './migration.ts';

/** Entries carried over at one go: some hundredths of a second. */
const AT_ONE_GO = 1000;

interface Row {
  position: number;
  run: number;
  event: string;
  previous: string;
  hash: string;
}

/**
 * Hashes as bytes, which halves what a reading takes beside its event; where the entries of each run stand (`stretch`), and what
 * is known of the record as a whole (`mark`). Every entry is checked as it is carried over, so that nothing altered is made good.
 */
export const toVersion2: Migration = {
  to: 2,
  *steps(database, tell) {
    database.exec(`
      DROP TRIGGER entry_is_never_changed;
      DROP TRIGGER entry_is_never_deleted;
      ALTER TABLE entry RENAME TO entry_as_text;
      CREATE TABLE entry (
        position INTEGER PRIMARY KEY,
        run      INTEGER NOT NULL,
        event    TEXT NOT NULL,
        previous BLOB NOT NULL CHECK (length(previous) = 32),
        hash     BLOB NOT NULL CHECK (length(hash) = 32)
      ) STRICT;
      CREATE TABLE stretch (
        first INTEGER PRIMARY KEY,
        run   INTEGER NOT NULL
      ) STRICT;
      CREATE INDEX stretch_of_run ON stretch (run, first);
      CREATE TABLE mark (
        name     TEXT PRIMARY KEY,
        position INTEGER NOT NULL,
        hash     BLOB NOT NULL,
        at       TEXT NOT NULL
      ) STRICT;
    `);
    yield* carryOver(database, tell);
    database.exec(`
      DROP TABLE entry_as_text;
      CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
      CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
    `);
  },
};

function* carryOver(database: Database.Database, tell: Parameters<Migration['steps']>[1]): Generator<undefined, void> {
  const read = database.prepare<[after: number, most: number], Row>(
    'SELECT * FROM entry_as_text WHERE position > ? ORDER BY position LIMIT ?',
  );
  const insert = database.prepare('INSERT INTO entry (position, run, event, previous, hash) VALUES (?, ?, ?, ?, ?)');
  const begin = database.prepare('INSERT INTO stretch (first, run) VALUES (?, ?)');
  const of = database.prepare('SELECT count(*) FROM entry_as_text').pluck().get() as number;
  let done = 0;
  let hash = CHAIN_START;
  let lastRun = 0;
  for (let rows = read.all(0, AT_ONE_GO); rows.length > 0; rows = read.all(done, AT_ONE_GO)) {
    for (const row of rows) {
      if (row.previous !== hash || row.hash !== entryHash(hash, row.position, row.run, row.event)) {
        throw problem('record-altered', row.position);
      }
      insert.run(row.position, row.run, row.event, bytesOf(row.previous), bytesOf(row.hash));
      if (row.run !== lastRun) begin.run(row.position, row.run);
      ({ hash, run: lastRun, position: done } = row);
    }
    tell({ step: 'entries', done, of });
    yield;
  }
}

function bytesOf(hex: string): Buffer {
  return Buffer.from(hex, 'hex');
}
