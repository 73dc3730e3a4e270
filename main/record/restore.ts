import { existsSync } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { problem } from '../../core/problem/problem.ts';
import { giveName, syncFolder } from '../certificates/fileBeingWritten.ts';
import type { GoingOn } from '../station/longWorks.ts';
import { checkAside, copyOf } from './backUp.ts';
import type { Checked } from './checkFile.ts';
import { lockRecord, RECORD_FILE } from './record.ts';
import { asTemporary } from './temporaryCopy.ts';

/** A record that took its place in a folder. */
export interface Restored extends Checked {
  file: string;
  /** Where the record that was there is kept; null where none was. */
  kept: string | null;
}

/**
 * Puts the copy of a record into a folder, as its record: checked before anything is touched, and again as it lies there.
 * @param replace the record that is there is kept under another name, otherwise it is a reason to refuse
 * @throws problems record-in-use, record-exists, file-unreadable, file-unwritable, work-stopped, and those of checkFile
 */
export async function restoreRecord(
  backup: string,
  folder: string,
  { replace, going }: { replace: boolean; going: GoingOn },
): Promise<Restored> {
  if (!existsSync(backup)) throw problem('file-unreadable', backup, 'it is not there');
  await checkAside(backup, going);
  return takePlace(folder, {
    replace,
    make: async (temporary) => {
      await copyOf(backup, temporary, going);
      const checked = await checkAside(temporary, going);
      going.throwIfStopped();
      return checked;
    },
  });
}

/**
 * Makes a record and gives it its place in a folder whose record is not in use.
 * @param make writes it under a temporary name @throws problems record-in-use, record-exists, file-unwritable, and those of `make`
 */
export async function takePlace(
  folder: string,
  { replace, make }: { replace: boolean; make: (temporary: string) => Promise<Checked> },
): Promise<Restored> {
  const file = join(folder, RECORD_FILE);
  await mkdir(folder, { recursive: true });
  const lock = lockRecord(folder);
  try {
    if (existsSync(file) && !replace) throw problem('record-exists', file);
    let kept: string | null = null;
    const checked = await asTemporary(file, {
      make,
      name: async (temporary) => {
        kept = await putInPlace(temporary, folder, file);
      },
    });
    return { ...checked, file, kept };
  } finally {
    lock.close();
  }
}

/**
 * Gives a record its name in a folder; the one that was there is kept under another, which is returned. Wherever the process is killed
 * the folder has the one or the other, whole: it is never without, so that no station begins an empty one.
 */
async function putInPlace(temporary: string, folder: string, file: string): Promise<string | null> {
  const kept = join(folder, `reelohm-kept-${new Date().toISOString().replace(/[:.]/g, '-')}.sqlite`);
  const isThere = existsSync(file);
  if (isThere) emptyLog(file);
  // SQLite knows a log by its name alone: one that is left would be taken for that of the record which comes.
  for (const each of ['-wal', '-shm']) if (existsSync(file + each)) await rename(file + each, kept + each);
  if (!isThere) {
    if (!(await giveName(temporary, file))) throw problem('record-exists', file);
    return null;
  }
  if (!(await giveName(file, kept))) throw problem('file-exists', kept);
  await rename(temporary, file);
  await syncFolder(folder);
  return kept;
}

/** Writes the log of a record into it, so that nothing of it is lost with its name. */
function emptyLog(file: string): void {
  try {
    const database = new Database(file, { fileMustExist: true });
    try {
      database.pragma('wal_checkpoint(TRUNCATE)');
    } finally {
      database.close();
    }
  } catch {
    // A record that is damaged is kept as it lies, its log beside it.
  }
}
