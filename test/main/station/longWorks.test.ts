import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import type { News } from '../../../core/contract/contract.ts';
import { openStationKey } from '../../../main/certificates/stationKey.ts';
import { openRecord } from '../../../main/record/record.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readingsUntil } from '../../readingsUntil.ts';
import { BY, readyBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { keep, longRun } from './longRun.ts';

/** Enough that it is done in a thread; and enough that the thread tells how far it is. */
const READINGS = 2000;
const READINGS_TOLD = 12_000;
const PARTS = 6000;
/** All columns, so that the rows take their time. */
const CSV = `part,nominal,tolerance,supplier,aql\n${Array.from({ length: PARTS }, (_, index) => `P-${index},4k7,1 %,Example Supply,1.0`).join('\n')}`;

/** A station with long runs on hold, from number 1 on. */
async function withLongRuns(lots = ['L-1'], readings = READINGS) {
  const folder = temporaryFolder();
  const record = openRecord(folder);
  for (const [index, lot] of lots.entries()) keep(record, index + 1, await longRun(readings, lot));
  record.close();
  return { station: openedStation(folder), folder, certificates: join(folder, 'certificates') };
}

/** All news of work of that name, as they come. */
function heard(station: Station, work: string): Extract<News, { kind: 'work' }>[] {
  const news: Extract<News, { kind: 'work' }>[] = [];
  station.listen((each) => {
    if (each.kind === 'work' && each.work === work) news.push(each);
  });
  return news;
}

/** Stops work as soon as it tells how far it is. */
function stopAtFirstNews(station: Station, work: string): void {
  station.listen((news) => {
    if (news.kind === 'work' && news.work === work && news.progress) void station.ask('stop-work', { work });
  });
}

/** How many readings of another run are taken until something is done. */
async function measuredUntil(station: Station, done: Promise<unknown>): Promise<number> {
  const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 4000, accept: 3999 }) });
  await readyBench(station, run);
  return readingsUntil(station, run, done);
}

const filesIn = (folder: string) => (existsSync(folder) ? readdirSync(folder) : []);

describe('the certificate of a long run', () => {
  it('is told as it is made, another run is measured meanwhile, and it is the one that is made at one go', async () => {
    const { station, folder } = await withLongRuns(['L-1'], READINGS_TOLD);
    const news = heard(station, 'w');
    const written = station.ask('write-certificate', { run: 1, work: 'w' });
    expect(await measuredUntil(station, written)).toBeGreaterThan(3);
    const run = await runOf(station, 1);
    const { file, sha256 } = await written;
    const about = { run: 1, version: 'test', reprint: null };
    const text = certificateOf({ ...run, certificates: [] }, about, openStationKey(folder));
    expect(sha256).toBe(createHash('sha256').update(text).digest('hex'));
    expect(readFileSync(file, 'utf8')).toBe(text);
    expect(news.length).toBeGreaterThan(1);
    expect(news.at(-1)).toMatchObject({ progress: null, stopped: false });
    for (const { progress } of news.slice(0, -1)) expect(progress?.done).toBeLessThanOrEqual(progress?.of ?? 0);
  });

  it('leaves no file where it is stopped, and can be written after', async () => {
    const { station, certificates } = await withLongRuns();
    const news = heard(station, 'w');
    const written = problemOf(station.ask('write-certificate', { run: 1, work: 'w' }));
    await station.ask('stop-work', { work: 'w' });
    expect(await written).toBe('work-stopped');
    expect(news.at(-1)).toMatchObject({ progress: null, stopped: true });
    expect(filesIn(certificates)).toEqual([]);
    expect((await runOf(station, 1)).certificates).toEqual([]);
    await station.ask('write-certificate', { run: 1 });
    const [file] = filesIn(certificates);
    expect(filesIn(certificates)).toEqual([file, `${file}-metadata.json`]);
  });

  it('is not begun twice under one name, and nothing comes of stopping what is not there', async () => {
    const { station } = await withLongRuns();
    await station.ask('stop-work', { work: 'w' });
    const first = station.ask('write-certificate', { run: 1, work: 'w' });
    expect(await problemOf(station.ask('write-certificate', { run: 1, work: 'w' }))).toBe('work-under-way');
    await first;
  });

  it('is not written of a hold that was lifted meanwhile', async () => {
    const { station, certificates } = await withLongRuns();
    // Else it may be lifted before the run is there at all.
    await runOf(station, 1);
    const written = station.ask('write-certificate', { run: 1, work: 'w' });
    await station.ask('lift-hold', { run: 1, by: BY, reason: 'the buyer agreed' });
    expect(await problemOf(written)).toBe('run-went-on');
    expect(filesIn(certificates)).toEqual([]);
  });

  it('is stopped when the station is closed', async () => {
    const { station, certificates } = await withLongRuns();
    const ended = problemOf(station.ask('write-certificate', { run: 1, work: 'w' }));
    await station.close();
    expect(await ended).toBe('work-stopped');
    expect(filesIn(certificates)).toEqual([]);
  });
});

describe('a long file of parts', () => {
  it('is previewed, imported and exported while a run is measured', async () => {
    const station = openedStation();
    const news = heard(station, 'w');
    const previewed = station.ask('preview-parts', { csv: CSV, work: 'w' });
    expect(await measuredUntil(station, previewed)).toBeGreaterThan(3);
    const { version, added } = await previewed;
    expect(added).toHaveLength(PARTS);
    expect(news.map(({ progress }) => progress?.step)).toContain('rows-read');
    const imported = station.ask('import-parts', { csv: CSV, version });
    expect(await measuredUntil(station, imported)).toBeGreaterThan(3);
    expect(await imported).toEqual({ imported: PARTS });
    const exported = station.ask('export-parts', {});
    expect(await measuredUntil(station, exported)).toBeGreaterThan(3);
    expect((await exported).text.split('\r\n')).toHaveLength(PARTS + 2);
  });

  it('changes nothing where its import is stopped', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    await station.ask('save-part', { part: { number: 'P-1', nominal: '1k', tolerance: '5 %' } });
    const { version } = await station.ask('preview-parts', { csv: CSV });
    const [before, files] = [readFileSync(join(folder, 'parts.json'), 'utf8'), readdirSync(folder)];
    let told = 0;
    station.listen((news) => {
      if (news.kind === 'parts') told++;
    });
    stopAtFirstNews(station, 'w');
    expect(await problemOf(station.ask('import-parts', { csv: CSV, version, work: 'w' }))).toBe('work-stopped');
    expect([readFileSync(join(folder, 'parts.json'), 'utf8'), readdirSync(folder), told]).toEqual([before, files, 0]);
    // And it can be done after all.
    expect(await station.ask('import-parts', { csv: CSV, version })).toEqual({ imported: PARTS });
  });
});

describe('other long work', () => {
  it('compares lots one after the other, and stops between them', async () => {
    const { station } = await withLongRuns(['L-1', 'L-2']);
    const news = heard(station, 'w');
    await station.ask('lot-history', { run: 1, work: 'w' });
    expect(news.map(({ progress }) => progress)).toEqual([
      { step: 'lots', done: 1, of: 2 },
      { step: 'lots', done: 2, of: 2 },
      null,
    ]);
    stopAtFirstNews(station, 'x');
    expect(await problemOf(station.ask('lot-history', { run: 1, work: 'x' }))).toBe('work-stopped');
  });

  it('stops a check of the bench between two of its readings: it was not done, which is not failed', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await readyBench(station, run);
    const before = (await runOf(station, run)).history.size;
    stopAtFirstNews(station, 'w');
    const asked = { run, by: BY, check: 'shorted-leads', work: 'w' } as const;
    expect(await problemOf(station.ask('check-bench', asked))).toBe('work-stopped');
    expect((await runOf(station, run)).history.size).toBe(before);
    await station.ask('take-reading', { run });
  });

  it('is stopped where pieces before and after a treatment are compared', async () => {
    const station = openedStation();
    const csv = `piece,ohms\n${Array.from({ length: 20_000 }, (_, index) => `${index + 1},4700.${index % 100}`).join('\n')}`;
    const asked = {
      before: { name: 'before.csv', csv },
      after: { name: 'after.csv', csv },
      treatment: 'heat',
      limit: '0.25 %',
    };
    const compared = problemOf(station.ask('compare-stress', { ...asked, work: 'w' }));
    await station.ask('stop-work', { work: 'w' });
    expect(await compared).toBe('work-stopped');
    expect((await station.ask('compare-stress', asked)).pieces).toHaveLength(20_000);
  });
});
