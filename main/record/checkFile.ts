import { existsSync } from 'node:fs';
import Database from 'better-sqlite3';
import { isContinuityEvent } from '../../core/contract/recordEvent.ts';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { BETWEEN_TELLINGS, type TellProgress } from '../../core/progress/progress.ts';
import { codeOf } from '../codeOf.ts';
import { checkRows } from './checkRows.ts';
import { StretchPlaces } from './checkTail.ts';
import { entryOf, entryRows, type Follows, THE_START } from './entryRows.ts';
import { mustReachMarks } from './marks.ts';
import { RUN_TABLES_VERSION } from './runTables.ts';
import { runTablesVersion, SCHEMA_VERSION, versionOf } from './schema.ts';

/** What SQLite says where a file may be sound, but could not be opened or read. */
const NOT_LOOKED_AT = /^SQLITE_(CANTOPEN|BUSY|LOCKED|PERM|READONLY|NOMEM)/;

/** A record that was found whole. */
export interface Checked {
  entries: number;
  runs: number;
  /** Hash of the last entry, which stands for all of them; 64 zeros of an empty record. */
  hash: string;
}

/**
 * Checks all of a record, also while a station writes to it: that SQLite finds its file sound (`PRAGMA integrity_check`), that every entry
 * is an event and follows the one before by its hash, that the record ends where it ended, that the entries of each run are found, and
 * that the tables of runs say what they give. Nothing is changed. Earlier versions of the tables are checked as well.
 * @param known an entry that is known to stand in it
 * @throws problems record-damaged, record-altered, record-cut, record-rows-altered, record-unusable; file-unreadable where it cannot be looked at
 */
export function checkFile(
  { file, known = null }: { file: string; known?: Follows | null },
  tell: TellProgress,
): Checked {
  let database: Database.Database | undefined;
  if (!existsSync(file)) throw problem('file-unreadable', file, 'it is not there');
  try {
    database = new Database(file, { readonly: true, fileMustExist: true });
    const version = versionOf(database, file);
    if (version === 0) throw problem('record-unusable', file, 'there is nothing in it');
    mustBeSound(database, file);
    return checkEntries(database, { version, known }, tell);
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    const isSeen = !NOT_LOOKED_AT.test(codeOf(thrown) ?? '');
    throw problem(isSeen ? 'record-damaged' : 'file-unreadable', file, wordsOf(thrown));
  } finally {
    database?.close();
  }
}

function mustBeSound(database: Database.Database, file: string): void {
  const found = database.pragma('integrity_check(1)', { simple: true }) as string;
  if (found !== 'ok') throw problem('record-damaged', file, found);
}

function checkEntries(
  database: Database.Database,
  { version, known }: { version: number; known: Follows | null },
  tell: TellProgress,
): Checked {
  const ends = database.prepare('SELECT min(position) AS first, max(position) AS last FROM entry').get() as {
    first: number | null;
    last: number | null;
  };
  if (ends.first !== null && ends.first !== 1) throw problem('record-altered', 1);
  const of = ends.last ?? 0;
  const isPresent = version === SCHEMA_VERSION;
  const hasRows = isPresent && runTablesVersion(database) === RUN_TABLES_VERSION;
  const places = isPresent ? new StretchPlaces(database, THE_START) : null;
  /** Whether each run is a continuity run: none is of both kinds. */
  const runs = new Map<number, boolean>();
  let end = THE_START;
  for (const row of entryRows(database, { from: 1, upTo: of, after: THE_START })) {
    const isContinuity = isContinuityEvent(entryOf(row).event);
    if ((runs.get(row.run) ?? isContinuity) !== isContinuity) throw problem('record-altered', row.position);
    places?.mustBegin(row);
    if (row.position === known?.position && row.hash !== known.hash) throw problem('record-altered', row.position);
    runs.set(row.run, isContinuity);
    end = { position: row.position, hash: row.hash };
    if (row.position % BETWEEN_TELLINGS === 0 || row.position === of) {
      tell({ step: 'entries', done: row.position, of });
    }
  }
  // As of one moment: a station may be closing.
  if (isPresent) database.transaction(() => mustReachMarks(database, endNow(database, end)))();
  if (hasRows) checkRows(database, end.position, tell);
  if (known && end.position < known.position) throw problem('record-cut', end.position, known.position);
  return { entries: end.position, runs: runs.size, hash: end.hash };
}

/** A station that writes meanwhile may have closed the record behind what was gone through. */
function endNow(database: Database.Database, checked: Follows): Follows {
  const last = database.prepare('SELECT position, hash FROM entry ORDER BY position DESC LIMIT 1').get() as
    | { position: number; hash: Buffer }
    | undefined;
  return last ? { position: last.position, hash: last.hash.toString('hex') } : checked;
}
