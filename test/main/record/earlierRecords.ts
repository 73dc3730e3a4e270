import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Entry } from '../../../core/contract/contract.ts';

/** The tables as each version of the program made them. They are kept here as they were, and never taken from the program. */
const TABLES: Record<number, string> = {
  1: `
    CREATE TABLE entry (
      position INTEGER PRIMARY KEY,
      run      INTEGER NOT NULL,
      event    TEXT NOT NULL,
      previous TEXT NOT NULL,
      hash     TEXT NOT NULL
    ) STRICT;
    CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
    CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
  `,
  2: `
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
    CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
    CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
  `,
};

/** From this version on hashes are bytes, and it stands where the entries of each run begin. */
const WITH_STRETCHES = 2;

/** A record as an earlier version of the program would have left it. */
export function recordOf(version: number, folder: string, entries: readonly Entry[]): string {
  const tables = TABLES[version];
  if (tables === undefined) throw new Error(`the tables of version ${version} are not known here`);
  const file = join(folder, 'reelohm.sqlite');
  const database = new Database(file);
  database.pragma('journal_mode = WAL');
  database.transaction(() => {
    database.exec(tables);
    database.pragma(`application_id = ${0x5265656c}`);
    database.pragma(`user_version = ${version}`);
    const insert = database.prepare('INSERT INTO entry VALUES (?, ?, ?, ?, ?)');
    const hasStretches = version >= WITH_STRETCHES;
    const kept = (hash: string) => (hasStretches ? Buffer.from(hash, 'hex') : hash);
    let before = 0;
    for (const { position, run, event, previous, hash } of entries) {
      insert.run(position, run, JSON.stringify(event), kept(previous), kept(hash));
      if (hasStretches && run !== before) database.prepare('INSERT INTO stretch VALUES (?, ?)').run(position, run);
      before = run;
    }
  })();
  database.close();
  return file;
}
