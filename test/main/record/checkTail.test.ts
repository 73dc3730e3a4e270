import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { InspectionEvent } from '../../../core/inspection/event.ts';
import { openRecord, RECORD_FILE } from '../../../main/record/record.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY } from '../../readyBench.ts';
import { smallDisk, spareBytes } from '../../smallDisk.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { keep, longRun } from '../station/longRun.ts';
import { measuredRecord } from './measuredRecord.ts';

const CONTINUED: InspectionEvent = { type: 'run-continued', at: '2026-03-02T14:05:09.120+01:00' };

function alter(folder: string, sql: string): void {
  const forger = new Database(join(folder, RECORD_FILE));
  forger.exec('DROP TRIGGER IF EXISTS entry_is_never_changed; DROP TRIGGER IF EXISTS entry_is_never_deleted');
  forger.exec(sql);
  forger.close();
}

const openingOf = (folder: string) => problemOf((async () => openedStation(folder))());

describe('the check of a record at its start', () => {
  it('finds an altered entry of a record of ordinary size, wherever it is', async () => {
    const { folder, entries } = await measuredRecord();
    for (const position of [1, Math.floor(entries.length / 2), entries.length]) {
      const station = openedStation(folder);
      await station.close();
      alter(folder, `UPDATE entry SET run = run + 1 WHERE position = ${position}`);
      expect(await openingOf(folder), `entry ${position}`).toBe('record-altered');
      const forger = new Database(join(folder, RECORD_FILE));
      forger.exec(`UPDATE entry SET run = run - 1 WHERE position = ${position}`);
      forger.exec(
        "CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'no'); END; CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'no'); END",
      );
      forger.close();
    }
    expect(await openingOf(folder)).toBe('no problem');
  });

  it('finds that the end is missing, or was added to, while no station was open', async () => {
    const cut = await measuredRecord();
    alter(cut.folder, 'DELETE FROM entry WHERE position = (SELECT max(position) FROM entry)');
    expect(await openingOf(cut.folder)).toBe('record-cut');
    const added = await measuredRecord();
    alter(
      added.folder,
      'INSERT INTO entry SELECT position + 1, run, event, hash, randomblob(32) FROM entry ORDER BY position DESC LIMIT 1',
    );
    expect(await openingOf(added.folder)).toBe('record-altered');
  });

  it('goes over the last 50 000 entries of a large record at most; what lies before is found when its run is opened, and on demand', async () => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    keep(record, 1, await longRun(50));
    keep(record, 2, await longRun(51_000));
    record.close();
    // So that the rows of its runs are made.
    await openedStation(folder).close();
    alter(folder, "UPDATE entry SET event = replace(event, 'L-1', 'L-9') WHERE position = 1");
    const looked: number[] = [];
    const again = openRecord(folder);
    for (const _ of again.checkingTail(({ done, of }) => looked.push(done, of)));
    again.close();
    expect(Math.max(...looked)).toBe(50_000);
    const station = openedStation(folder);
    expect(await problemOf(station.ask('open-run', { run: 1 }))).toBe('record-altered');
    expect(await problemOf(station.ask('check-record', {}))).toBe('record-altered');
    await station.ask('open-run', { run: 2 });
    await station.close();
    alter(folder, 'DROP TRIGGER IF EXISTS x; UPDATE entry SET run = 1 WHERE position = 51000');
    expect(await openingOf(folder)).toBe('record-altered');
  });
});

describe('a record', () => {
  it('that was killed may have more entries than when it was opened, and is as good as any', async () => {
    const { folder, entries } = await measuredRecord();
    const record = openRecord(folder);
    record.append(3, [CONTINUED]);
    // As a killed process leaves it: no closing mark.
    const other = new Database(record.file);
    expect(other.prepare("SELECT position FROM mark WHERE name = 'opened'").pluck().get()).toBe(entries.length);
    expect(other.prepare("SELECT position FROM mark WHERE name = 'closed'").pluck().get()).toBeUndefined();
    other.close();
    record.close();
    expect(openRecordSize(folder)).toBe(entries.length + 1);
  });

  it('is opened and read where there is no room, and goes on when there is', async (test) => {
    const folder = smallDisk(test);
    const record = openRecord(folder);
    keep(record, 1, await longRun(20));
    record.close();
    writeFileSync(join(folder, 'ballast'), Buffer.alloc(Math.max(0, spareBytes(folder) - 128 * 1024)));
    const station = openedStation(folder);
    writeFileSync(join(folder, 'more'), Buffer.alloc(Math.max(0, spareBytes(folder))));
    const lift = () => station.ask('lift-hold', { run: 1, by: BY, reason: 'agreed' });
    expect((await station.ask('open-run', { run: 1 })).head.readingCount).toBe(20);
    const first = await problemOf(lift());
    if (first === 'record-full') {
      rmSync(join(folder, 'more'));
      expect(await problemOf(lift())).toBe('no problem');
    }
    await station.close();
    rmSync(join(folder, 'ballast'));
    expect(await openingOf(folder)).toBe('no problem');
  });
});

function openRecordSize(folder: string): number {
  const record = openRecord(folder);
  onTestFinished(() => record.close());
  return record.size();
}
