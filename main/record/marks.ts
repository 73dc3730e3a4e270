import type Database from 'better-sqlite3';
import { problem } from '../../core/problem/problem.ts';
import type { Follows } from './entryRows.ts';

/**
 * What is known of a record beside its chain: `checked`, up to where all of it was checked; `closed`, where it ended when it was
 * closed; `opened`, where it ended when it was opened, in place of that.
 */
export type MarkName = 'checked' | 'closed' | 'opened';

export function markOf(database: Database.Database, name: MarkName): Follows | null {
  const row = database.prepare('SELECT position, hash FROM mark WHERE name = ?').get(name) as
    | { position: number; hash: Buffer }
    | undefined;
  return row ? { position: row.position, hash: row.hash.toString('hex') } : null;
}

export function setMark(database: Database.Database, name: MarkName, { position, hash }: Follows): void {
  database
    .prepare(
      "INSERT OR REPLACE INTO mark (name, position, hash, at) VALUES (?, ?, ?, strftime('%Y-%m-%dT%H:%M:%fZ', 'now'))",
    )
    .run(name, position, Buffer.from(hash, 'hex'));
}

/** Where a record ended when it was closed last, in place of where it ends now that it is opened. */
export function markOpened(database: Database.Database, end: Follows): void {
  database.transaction(() => {
    database.prepare("DELETE FROM mark WHERE name = 'closed'").run();
    setMark(database, 'opened', end);
  })();
}

/**
 * The end of a record must be that of its closing; where it was not closed it must at least reach where it was opened. That takes
 * no time, and shows what a chain cannot: entries that are missing at the end, or were added there when no station was open.
 * @throws problems record-cut, record-altered
 */
export function mustReachMarks(database: Database.Database, end: Follows): void {
  const closed = markOf(database, 'closed');
  if (closed && end.position > closed.position) throw problem('record-altered', closed.position + 1);
  for (const mark of [closed, markOf(database, 'opened'), markOf(database, 'checked')]) {
    if (mark === null) continue;
    if (end.position < mark.position) throw problem('record-cut', end.position, mark.position);
    if (mark.position > 0 && hashAt(database, mark.position) !== mark.hash) {
      throw problem('record-altered', mark.position);
    }
  }
}

function hashAt(database: Database.Database, position: number): string | undefined {
  const hash = database.prepare('SELECT hash FROM entry WHERE position = ?').pluck().get(position);
  return (hash as Buffer | undefined)?.toString('hex');
}
