import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, it, onTestFinished } from 'vitest';
import { serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import { checkFile } from '../../../main/record/checkFile.ts';
import { openRecord } from '../../../main/record/record.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readyBench, runOf } from '../../readyBench.ts';
import { smallDisk, spareBytes } from '../../smallDisk.ts';
import { hearing, quickLot } from '../station/capturing.ts';

it('a full disk stops the run before a reading that cannot be kept, hands-free too; nothing that was told is lost, and it goes on', async (test) => {
  const folder = smallDisk(test);
  const file = join(folder, 'reelohm.sqlite');
  const server = await serveBenchOnTcp({
    host: '127.0.0.1',
    port: 0,
    scenario: { seed: 7, hands: { piecesPerSecond: 2 }, meter: { pace: 'none' } },
  });
  onTestFinished(() => server.close().catch(() => undefined));
  const clock = () => server.bench.clock.now();
  const station = openedStation(folder, openRecord(folder), clock);
  const told: string[] = [];
  station.listen((news) => {
    if (news.kind === 'entry' && news.entry.event.type === 'reading-taken') told.push(news.entry.event.raw);
  });
  const { off } = hearing(station, clock);
  const { run } = await station.ask('receive-lot', { claim: quickLot(900) });
  await readyBench(station, run, server.address);
  for (let reading = 0; reading < 5; reading++) await station.ask('take-reading', { run });

  writeFileSync(join(folder, 'ballast'), Buffer.alloc(Math.max(0, spareBytes(folder))));
  const ended = off();
  await station.ask('start-capture', { run });
  // The log may have a little room left.
  expect((await ended).why).toMatchObject({ code: 'record-full' });
  const kept = told.length;
  for (let again = 0; again < 3; again++) {
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('record-full');
  }
  expect(told).toHaveLength(kept);
  expect((await runOf(station, run)).readings.size).toBe(kept);
  // What was told is on the disk for others to see, full as it is.
  const reader = new Database(file, { readonly: true });
  expect(reader.prepare('SELECT meter_text FROM readings ORDER BY reading').pluck().all()).toEqual(told);
  reader.close();

  rmSync(join(folder, 'ballast'));
  for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });
  expect(told).toHaveLength(kept + 3);
  await station.close();
  expect(checkFile({ file }, () => undefined).runs).toBe(1);
  const again = openedStation(folder);
  expect((await runOf(again, run)).readings.slice().map(({ raw }) => raw)).toEqual(told);
});
