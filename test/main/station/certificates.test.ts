import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { openStationKey } from '../../../main/certificates/stationKey.ts';
import { openStation } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { smallDisk, spareBytes } from '../../smallDisk.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

/** A station with a lot on hold, whose certificate may be written. */
async function withLotOnHold() {
  const folder = temporaryFolder();
  const station = openedStation(folder);
  const { run } = await station.ask('receive-lot', { claim: exampleLot() });
  await station.ask('decide-lot', { run, disposition: 'on-hold', by: 'Ines Okoro', reason: 'waiting' });
  return { folder, station, run };
}

it('a certificate is signed by the key of its station, whose fingerprint the station says', async () => {
  const { folder, station, run } = await withLotOnHold();
  const { file, sha256 } = await station.ask('write-certificate', { run });
  const found = verifyCertificate(readFileSync(file));
  const { publicKey, fingerprint } = openStationKey(folder);
  expect(found).toMatchObject({ publicKey, sha256, form: 'dot', reprint: null });
  expect((await station.ask('overview', {})).keyFingerprint).toBe(fingerprint);
});

it('has its metadata beside it, which name it and its digest', async () => {
  const { station, run } = await withLotOnHold();
  for (const form of ['dot', 'comma'] as const) {
    const { file, sha256 } = await station.ask('write-certificate', { run, form });
    const metadata = JSON.parse(readFileSync(`${file}-metadata.json`, 'utf8'));
    expect(decodeURIComponent(metadata.url)).toBe(basename(file));
    expect(metadata.dialect.delimiter).toBe(form === 'dot' ? ',' : ';');
    expect(createHash('sha256').update(readFileSync(file)).digest('hex')).toBe(sha256);
    expect(metadata.notes[0]['dc:identifier']).toBe(sha256);
    expect(file.includes('decimal-comma')).toBe(form === 'comma');
  }
});

it('is a reprint where it is written once more, in whatever form', async () => {
  const { station, run } = await withLotOnHold();
  const first = await station.ask('write-certificate', { run });
  const second = await station.ask('write-certificate', { run, form: 'comma' });
  const third = await station.ask('write-certificate', { run });
  expect(verifyCertificate(readFileSync(second.file)).reprint).toMatchObject({ copy: 2, after: first.sha256 });
  expect(verifyCertificate(readFileSync(third.file)).reprint).toMatchObject({ copy: 3, after: second.sha256 });
});

it('can be read by whoever hears that it is written', async () => {
  const { station, run } = await withLotOnHold();
  const read: Promise<{ text: string }>[] = [];
  station.listen((news) => {
    if (news.kind !== 'entry' || news.entry.event.type !== 'certificate-written') return;
    read.push(station.ask('read-certificate', { run }));
  });
  for (let copy = 1; copy <= 3; copy++) {
    const { sha256 } = await station.ask('write-certificate', { run });
    const { text } = (await read.at(-1)) ?? { text: '' };
    expect(createHash('sha256').update(text).digest('hex')).toBe(sha256);
  }
  expect(read).toHaveLength(3);
});

it('is written once where it is asked for twice at once: one of them is no reprint, and there is no other', async () => {
  const { folder, station, run } = await withLotOnHold();
  const file = (name: string) => join(folder, `${name}.csv`);
  const asked = ['a', 'b'].map((name) => problemOf(station.writeCertificate({ run, form: 'dot' }, file(name))));
  expect((await Promise.all(asked)).sort()).toEqual(['no problem', 'run-went-on']);
  expect(['a', 'b'].filter((name) => existsSync(file(name)))).toHaveLength(1);
  const next = await station.ask('write-certificate', { run });
  expect(verifyCertificate(readFileSync(next.file)).reprint).toMatchObject({ copy: 2 });
});

it('gets no name where the record cannot say that it was written', async (test) => {
  const disk = smallDisk(test);
  const certificates = temporaryFolder();
  const station = openStation({ folders: { data: disk, certificates }, version: 'test' });
  onTestFinished(() => station.close());
  const { run } = await station.ask('receive-lot', { claim: exampleLot() });
  await station.ask('decide-lot', { run, disposition: 'on-hold', by: 'Ines Okoro', reason: 'waiting' });
  writeFileSync(join(disk, 'ballast'), Buffer.alloc(Math.max(0, spareBytes(disk))));
  // The log may have a little room left.
  let [problem, written] = ['', 0];
  while (problem !== 'record-full') {
    problem = await problemOf(station.ask('write-certificate', { run }));
    if (problem === 'no problem') written++;
    expect(written).toBeLessThan(200);
  }
  expect(readdirSync(certificates).filter((name) => name.endsWith('.csv'))).toHaveLength(written);
  rmSync(join(disk, 'ballast'));
  const { file } = await station.ask('write-certificate', { run });
  expect(verifyCertificate(readFileSync(file)).reprint?.copy ?? 1).toBe(written + 1);
});

it('is not there where its metadata cannot be: both or none', async () => {
  const { folder, station, run } = await withLotOnHold();
  const file = join(folder, 'mine.csv');
  writeFileSync(`${file}-metadata.json`, 'mine');
  expect(await problemOf(station.writeCertificate({ run, form: 'dot' }, file))).toBe('certificate-exists');
  expect(existsSync(file)).toBe(false);
  expect(readFileSync(`${file}-metadata.json`, 'utf8')).toBe('mine');
});
