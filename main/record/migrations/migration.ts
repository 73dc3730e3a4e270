import type Database from 'better-sqlite3';
import type { TellProgress } from '../../../core/progress/progress.ts';

/** One step of the tables of a record, from the version before. Done within a transaction: whole or not at all. */
export interface Migration {
  /** The version that the tables have after it. */
  to: number;
  /** Does it; gives something now and then where it goes over many entries. @throws problem record-altered */
  steps(database: Database.Database, tell: TellProgress): Iterable<undefined>;
}
