import { execFileSync } from 'node:child_process';
import { chmodSync, statfsSync } from 'node:fs';
import { onTestFinished, type TestContext } from 'vitest';
import { temporaryFolder } from './temporaryFolder.ts';

/** A file system of 2 MB, gone when the test is over. Skips the test, saying why, where none can be mounted. */
export function smallDisk(test: TestContext): string {
  return mounted(test, 'size=2m');
}

/** A folder nobody can write in, root included. */
export function readOnlyFolder(test: TestContext): string {
  if (process.getuid?.() === 0) return mounted(test, 'ro');
  const folder = temporaryFolder();
  chmodSync(folder, 0o500);
  return folder;
}

function mounted(test: TestContext, options: string): string {
  const folder = temporaryFolder();
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', options, 'tmpfs', folder], { stdio: 'pipe' });
  } catch {
    const reason =
      'SKIPPED: a full or read-only disk can only be tried where this user may mount a small one (Linux, root)';
    console.warn(reason);
    test.skip(reason);
  }
  onTestFinished(() => void execFileSync('umount', ['-l', folder]));
  return folder;
}

/** Bytes left on the file system of a folder. */
export function spareBytes(folder: string): number {
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
}
