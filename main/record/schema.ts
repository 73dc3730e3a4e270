import type Database from 'better-sqlite3';
import { problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { migrations } from './migrations/migrations.ts';
import { RUN_TABLES, RUN_TABLES_VERSION } from './runTables.ts';

/** "Reel" in ASCII: lets `file` and us tell this record from any other SQLite file (`PRAGMA application_id`). */
export const APPLICATION_ID = 0x5265656c;

/** Version of the tables that hold what happened, kept in the file (`PRAGMA user_version`). README.md documents them. */
export const SCHEMA_VERSION = migrations.at(-1)?.to ?? 0;

/**
 * The version of the tables of a file; 0 of one that is empty. Nothing is changed.
 * @throws problem record-unusable of a database of another program, or of a newer version of this one
 */
export function versionOf(database: Database.Database, file: string): number {
  const version = database.pragma('user_version', { simple: true }) as number;
  const application = database.pragma('application_id', { simple: true }) as number;
  const isEmpty = database.prepare('SELECT count(*) FROM sqlite_schema').pluck().get() === 0;
  if (isEmpty ? application !== 0 : application !== APPLICATION_ID) {
    throw problem('record-unusable', file, 'it is the database of another program');
  }
  if (version > SCHEMA_VERSION) {
    throw problem('record-unusable', file, `it was made by a newer version (schema ${version})`);
  }
  return version;
}

/**
 * Brings the tables of a record to the version of this program, all steps in one transaction: where it fails, is stopped or
 * the process is killed, the record is as it was. Tables of runs that are of another version are made anew, empty.
 * @throws problems record-altered, record-unusable
 */
export function* migrating(database: Database.Database, file: string, tell: TellProgress): Generator<undefined, void> {
  const version = versionOf(database, file);
  if (version === SCHEMA_VERSION && runTablesVersion(database) === RUN_TABLES_VERSION) return;
  database.exec('BEGIN IMMEDIATE');
  try {
    for (const { to, steps } of migrations) if (to > version) yield* steps(database, tell);
    if (runTablesVersion(database) !== RUN_TABLES_VERSION) remakeRunTables(database);
    database.pragma(`application_id = ${APPLICATION_ID}`);
    database.pragma(`user_version = ${SCHEMA_VERSION}`);
    database.exec('COMMIT');
  } finally {
    if (database.inTransaction) database.exec('ROLLBACK');
  }
}

/** Takes away all that was made of the entries, and the tables it stood in, and makes these anew, empty. */
export function remakeRunTables(database: Database.Database): void {
  database.exec(RUN_TABLES);
  database
    .prepare("INSERT OR REPLACE INTO mark (name, position, hash, at) VALUES ('run-tables', ?, x'', '')")
    .run(RUN_TABLES_VERSION);
}

/** The version of the tables of runs in a file; 0 of one that has none. */
export function runTablesVersion(database: Database.Database): number {
  const hasMarks = database.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'mark'").get() !== undefined;
  if (!hasMarks) return 0;
  return (database.prepare("SELECT position FROM mark WHERE name = 'run-tables'").pluck().get() as number) ?? 0;
}
