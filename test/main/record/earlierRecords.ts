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
};

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
    for (const { position, run, event, previous, hash } of entries) {
      insert.run(position, run, JSON.stringify(event), previous, hash);
    }
  })();
  database.close();
  return file;
}
