import { existsSync } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
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
        kept = await keepAside(folder, file);
        if (!(await giveName(temporary, file))) throw problem('record-exists', file);
      },
    });
    return { ...checked, file, kept };
  } finally {
    lock.close();
  }
}

/** Renames the record of a folder, and the log that may belong to it, out of the way. */
async function keepAside(folder: string, file: string): Promise<string | null> {
  if (!existsSync(file)) return null;
  const moment = new Date().toISOString().replace(/[:.]/g, '-');
  const kept = join(folder, `reelohm-kept-${moment}.sqlite`);
  // The log first: a log without its record is no harm, a record without its log would lack what was added last.
  for (const each of ['-wal', '-shm', '']) if (existsSync(file + each)) await rename(file + each, kept + each);
  await syncFolder(folder);
  return kept;
}
