import type Database from 'better-sqlite3';
import type { RecordEntry } from '../../core/contract/contract.ts';
import { type RecordEvent, readRecordEvent } from '../../core/contract/recordEvent.ts';
import { problem } from '../../core/problem/problem.ts';
import { CHAIN_START, entryHash } from './hashChain.ts';

/** Entries read at one go; between two goes nothing is open in the database, so that others may write. */
const AT_ONE_GO = 1000;

/** An entry as it stands in the file, its event as the very text. */
export interface EntryRow {
  position: number;
  run: number;
  event: string;
  /** In hex. */
  previous: string;
  hash: string;
}

/** What an entry follows: the place and hash (hex) of the one before it. */
export interface Follows {
  position: number;
  hash: string;
}

export const THE_START: Follows = { position: 0, hash: CHAIN_START };

/**
 * The entries behind one place up to another, in order, each checked: that its hash is that of what it says, and that it follows
 * the one before it. Those that are added meanwhile are among them only as far as `upTo`.
 * @param after null: whatever the first one follows is taken for good
 * @throws problem record-altered at the first that does not fit
 */
export function* entryRows(
  database: Database.Database,
  { from, upTo, after }: { from: number; upTo: number; after: Follows | null },
): Generator<EntryRow> {
  const read = readerOf(database);
  let before = after;
  for (let first = from; first <= upTo; ) {
    const rows = read.all(first, Math.min(upTo, first + AT_ONE_GO - 1)) as RawRow[];
    // Where it is not known what the first one follows, it must at least stand where it is looked for.
    if (rows[0]?.position !== first) throw problem('record-altered', first);
    for (const raw of rows) {
      const row = { ...raw, previous: hexOf(raw.previous), hash: hexOf(raw.hash) };
      mustFollow(row, before);
      before = row;
      yield row;
    }
    first = (before?.position ?? first) + 1;
  }
}

interface RawRow extends Pick<EntryRow, 'position' | 'run' | 'event'> {
  previous: Buffer | string;
  hash: Buffer | string;
}

const readers = new WeakMap<Database.Database, Database.Statement>();

function readerOf(database: Database.Database): Database.Statement {
  const known = readers.get(database);
  if (known) return known;
  const reader = database.prepare('SELECT * FROM entry WHERE position BETWEEN ? AND ? ORDER BY position');
  readers.set(database, reader);
  return reader;
}

/** Bytes, or in the first version of the tables hex as it is. */
function hexOf(hash: Buffer | string): string {
  return typeof hash === 'string' ? hash : hash.toString('hex');
}

function mustFollow(row: EntryRow, before: Follows | null): void {
  const follows = before === null || (row.position === before.position + 1 && row.previous === before.hash);
  if (!follows || row.hash !== entryHash(row.previous, row.position, row.run, row.event)) {
    throw problem('record-altered', row.position);
  }
}

/** The entry of a row. @throws problem record-altered where its event is none: it was not written by us */
export function entryOf(row: EntryRow): RecordEntry {
  return { ...row, event: eventOf(row) };
}

function eventOf(row: EntryRow): RecordEvent {
  try {
    return readRecordEvent(JSON.parse(row.event));
  } catch {
    throw problem('record-altered', row.position);
  }
}
