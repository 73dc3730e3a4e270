import { fstatSync } from 'node:fs';
import { expect, it, vi } from 'vitest';
import { openStationKey } from '../../../main/certificates/stationKey.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

const synced = vi.hoisted(() => ({ folders: [] as boolean[] }));
vi.mock('node:fs', async (importOriginal) => {
  const real = await importOriginal<typeof import('node:fs')>();
  const fsyncSync = (handle: number) => {
    synced.folders.push(fstatSync(handle).isDirectory());
    real.fsyncSync(handle);
  };
  return { ...real, fsyncSync };
});

// A power cut cannot be made here: what is asked of the system is. A file's name lives in its folder (fsync(2), Linux manual pages).
it('a key is on the disk with its name before it signs anything', ({ skip }) => {
  if (process.platform === 'win32') skip('Windows has no call that brings a folder to the disk');
  openStationKey(temporaryFolder());
  expect(synced.folders).toEqual([false, true, false, true]);
});
