import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { FileBeingWritten } from '../../../main/certificates/fileBeingWritten.ts';
import { firstFree, nameWithBeside } from '../../../main/certificates/writeUnderFreeName.ts';
import { problemOf } from '../../openedStation.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

// A file system without hard links, as FAT on a stick: none can be mounted here, so the one call that it refuses is stood in for.
const disk = vi.hoisted(() => ({ hasLinks: false }));
vi.mock('node:fs/promises', async (importOriginal) => {
  const real = await importOriginal<typeof import('node:fs/promises')>();
  const link = (from: string, to: string) =>
    disk.hasLinks ? real.link(from, to) : Promise.reject(Object.assign(new Error('EPERM'), { code: 'EPERM' }));
  return { ...real, link };
});

const beside = { ends: '-metadata.json', textFor: (name: string) => `of ${name}` };

it.each([true, false])(
  'a file whose neighbour has no room gets the next name, both or none; with hard links: %s',
  async (hasLinks) => {
    disk.hasLinks = hasLinks;
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'lot.csv-metadata.json'), 'somebody else’s');
    const written = await FileBeingWritten.begin(folder);
    written.put(Buffer.from('rows'));
    await written.finish();
    await firstFree(folder, 'lot', (file) => nameWithBeside(written, file, beside));
    await written.end();
    expect(readdirSync(folder).sort()).toEqual(['lot-2.csv', 'lot-2.csv-metadata.json', 'lot.csv-metadata.json']);
    expect(readFileSync(join(folder, 'lot-2.csv'), 'utf8')).toBe('rows');
    expect(readFileSync(join(folder, 'lot-2.csv-metadata.json'), 'utf8')).toBe('of lot-2.csv');
  },
);

it('no empty file is left where a name was reserved and not given', async () => {
  disk.hasLinks = false;
  const folder = temporaryFolder();
  const written = await FileBeingWritten.begin(folder);
  await written.finish();
  await written.end();
  expect(await problemOf(written.name(join(folder, 'lot.csv')))).toBe('certificate-unwritable');
  expect(readdirSync(folder)).toEqual([]);
});
