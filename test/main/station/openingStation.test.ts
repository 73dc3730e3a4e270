import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, onTestFinished, test } from 'vitest';
import { type News, OPEN_STATION } from '../../../core/contract/contract.ts';
import { openRecord } from '../../../main/record/record.ts';
import { type OpeningStation, openingStation } from '../../../main/station/openingStation.ts';
import { problemOf } from '../../openedStation.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { keep, longRun } from './longRun.ts';

async function longRecord(readings: number): Promise<string> {
  const folder = temporaryFolder();
  const record = openRecord(folder);
  keep(record, 1, await longRun(readings));
  record.close();
  return folder;
}

function opening(data: string): OpeningStation {
  const station = openingStation({ folders: { data, certificates: join(data, 'certificates') }, version: 'test' });
  onTestFinished(() => station.close().catch(() => undefined));
  return station;
}

test('a long record is checked a little at a time, told as it goes on; what is asked meanwhile is answered after', async () => {
  const station = opening(await longRecord(12_000));
  const told: News[] = [];
  station.listen((news) => told.push(news));
  let turns = 0;
  const count = () => {
    turns++;
    next = setImmediate(count);
  };
  let next = setImmediate(count);
  const { runs } = await station.ask('overview', {});
  clearImmediate(next);
  expect(runs.map(({ counted }) => counted)).toEqual([12_000]);
  expect(turns).toBeGreaterThan(10);
  const works = told.flatMap((news) => (news.kind === 'work' ? [news] : []));
  expect(works[0]).toMatchObject({ work: OPEN_STATION, progress: { step: 'entries' } });
  for (const { progress } of works) if (progress) expect(progress.done).toBeLessThanOrEqual(progress.of);
  expect(works.at(-1)?.progress).toBeNull();
  // Then it is a station as any other, news included.
  await station.ask('lift-hold', { run: 1, by: 'Ines Okoro', reason: 'the buyer agreed' });
  expect(told.at(-1)).toMatchObject({ kind: 'entry', entry: { event: { type: 'hold-lifted' } } });
});

test('closed before it is open it lets the record go', async () => {
  const data = await longRecord(3000);
  const station = opening(data);
  const asked = problemOf(station.ask('overview', {}));
  await station.close();
  expect([await asked, await problemOf(station.opened)]).toEqual(['work-stopped', 'work-stopped']);
  expect((await opening(data).ask('overview', {})).runs).toHaveLength(1);
});

test('a second one on the same record is refused at once, and an altered record when it comes to light', async () => {
  const data = await longRecord(3000);
  const first = opening(data);
  expect(() => opening(data)).toThrowError(expect.objectContaining({ code: 'record-in-use' }));
  await first.close();
  const database = new Database(join(data, 'reelohm.sqlite'));
  database.exec(
    "DROP TRIGGER entry_is_never_changed; UPDATE entry SET event = replace(event, 'L-1', 'L-2') WHERE position = 1",
  );
  database.close();
  const station = opening(data);
  expect(await problemOf(station.ask('overview', {}))).toBe('record-altered');
  expect(await problemOf(station.opened)).toBe('record-altered');
});
