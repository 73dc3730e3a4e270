import { stat } from 'node:fs/promises';
import Database from 'better-sqlite3';
import { problem } from '../../core/problem/problem.ts';
import { doAside } from '../aside/doAside.ts';
import { giveName } from '../certificates/fileBeingWritten.ts';
import type { GoingOn } from '../station/longWorks.ts';
import type { Checked } from './checkFile.ts';
import { mustReachMarks, setMark } from './marks.ts';
import { endOf } from './record.ts';
import { SCHEMA_VERSION, versionOf } from './schema.ts';
import { asTemporary } from './temporaryCopy.ts';

/** Pages copied at one go: some thousandths of a second. */
const PAGES_AT_ONE_GO = 256;

/** Characters that a byte of a record counts for when it is checked: it is never little. */
const CHECKED_ASIDE = Number.POSITIVE_INFINITY;

/** A copy that was found whole. */
export interface BackedUp extends Checked {
  file: string;
  bytes: number;
}

/**
 * Copies a record into one file, as it is at this moment; whoever writes to it goes on meanwhile. The copy is checked as a whole before it
 * gets its name: there is a good copy or none.
 * @param source the record's file @param file of the copy; never over one that is there
 * @throws problems file-exists, file-unwritable, work-stopped, and those of checkFile of the copy
 */
export async function backUp(source: string, file: string, going: GoingOn): Promise<BackedUp> {
  return asTemporary(file, {
    make: async (temporary) => {
      await copyOf(source, temporary, going);
      const checked = await checkAside(temporary, going);
      going.throwIfStopped();
      return { file, bytes: (await stat(temporary)).size, ...checked };
    },
    name: async (temporary) => {
      if (!(await giveName(temporary, file))) throw problem('file-exists', file);
    },
  });
}

/** Checks the file of a record in a thread of its own. @throws problems of checkFile, work-stopped */
export function checkAside(file: string, { signal, tell }: GoingOn): Promise<Checked> {
  return doAside('check-record', { file }, { signal, tell, characters: CHECKED_ASIDE });
}

/**
 * Copies a record, as it is now, into a file without a log beside it, which says where its entries end.
 * @throws problems record-unusable, record-cut, record-altered; errors of SQLite and the file system
 */
export async function copyOf(source: string, target: string, going: GoingOn): Promise<void> {
  const database = new Database(source, { readonly: true, fileMustExist: true });
  try {
    // Of one moment from the first page to the last: what others write meanwhile would make it begin again.
    database.exec('BEGIN');
    const version = versionOf(database, source);
    if (version === 0) throw problem('record-unusable', source, 'there is nothing in it');
    await database.backup(target, {
      progress: ({ totalPages, remainingPages }) => {
        going.throwIfStopped();
        going.tell({ step: 'pages', done: totalPages - remainingPages, of: totalPages });
        return PAGES_AT_ONE_GO;
      },
    });
    going.throwIfStopped();
  } finally {
    database.close();
  }
  closeCopy(target);
}

/** So that an entry taken from the end of the copy, or added there, is seen. */
function closeCopy(file: string): void {
  const copy = new Database(file);
  try {
    copy.pragma('journal_mode = DELETE');
    if (versionOf(copy, file) !== SCHEMA_VERSION) return;
    const end = endOf(copy);
    // A mark that is written anew must not make good what the one before it shows.
    mustReachMarks(copy, end);
    setMark(copy, 'closed', end);
  } finally {
    copy.close();
  }
}
