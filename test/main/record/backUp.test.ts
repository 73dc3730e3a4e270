import { once } from 'node:events';
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { Worker } from 'node:worker_threads';
import Database from 'better-sqlite3';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { News } from '../../../core/contract/contract.ts';
import { backUp } from '../../../main/record/backUp.ts';
import { checkFile } from '../../../main/record/checkFile.ts';
import { importRecord } from '../../../main/record/importRecord.ts';
import { openRecord } from '../../../main/record/record.ts';
import { restoreRecord } from '../../../main/record/restore.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readingsUntil } from '../../readingsUntil.ts';
import { readyBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { keep, longRun } from '../station/longRun.ts';
import { measuredRecord } from './measuredRecord.ts';

const going = { tell: () => undefined, signal: new AbortController().signal, throwIfStopped: () => undefined };
const quietly = () => undefined;

/** A station on a record with a long run, and the number of one that is being measured. */
async function busyStation() {
  const folder = temporaryFolder();
  const record = openRecord(folder);
  keep(record, 1, await longRun(20_000));
  record.close();
  const station = openedStation(folder);
  const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 4000, accept: 3999 }) });
  await readyBench(station, run);
  return { folder, station, run };
}

describe('a backup', () => {
  it('is made while a run is measured, is whole, and restored it is the record as it was', async () => {
    const busy = await busyStation();
    const { station, run, folder } = busy;
    const news: News[] = [];
    station.listen((each) => news.push(each));
    const file = join(temporaryFolder(), 'backups', 'monday.sqlite');
    const backup = station.ask('back-up-record', { file, work: 'w' });
    const during = await readingsUntil(busy.station, busy.run, backup);
    expect(during).toBeGreaterThan(3);
    const { entries, hash } = await backup;
    expect(checkFile({ file }, quietly)).toMatchObject({ entries, hash });
    expect(readdirSync(join(file, '..'))).toEqual(['monday.sqlite']);
    const steps = news.flatMap((each) => (each.kind === 'work' && each.work === 'w' ? [each.progress?.step] : []));
    expect(steps).toContain('pages');
    expect(steps.at(-1)).toBeUndefined();
    // Never over a file.
    expect(await problemOf(station.ask('back-up-record', { file }))).toBe('file-exists');

    const elsewhere = temporaryFolder();
    expect(await restoreRecord(file, elsewhere, { replace: false, going })).toMatchObject({
      entries,
      hash,
      kept: null,
    });
    const restored = openRecord(elsewhere);
    const original = openRecordEntries(folder, entries, station);
    expect([...restored.entries(run)]).toEqual((await original).filter((entry) => entry.run === run));
    expect(restored.end().hash).toBe(hash);
    restored.close();
    const again = openedStation(elsewhere);
    expect((await runOf(again, 1)).readings.size).toBe(20_000);
    await readyBench(again, run);
    await again.ask('take-reading', { run });
  });

  it('leaves nothing where it is stopped', async () => {
    const busy = await busyStation();
    const folder = temporaryFolder();
    const { station } = busy;
    station.listen((news) => {
      if (news.kind === 'work' && news.work === 'w' && news.progress) void station.ask('stop-work', { work: 'w' });
    });
    const backup = station.ask('back-up-record', { file: join(folder, 'b.sqlite'), work: 'w' });
    expect(await problemOf(backup)).toBe('work-stopped');
    const written = station.ask('export-record', { folder: join(folder, 'e'), work: 'w' });
    expect(await problemOf(written)).toBe('work-stopped');
    expect(await problemOf(station.ask('check-record', { work: 'w' }))).toBe('work-stopped');
    expect(readdirSync(folder)).toEqual([]);
  });

  it('goes into the folder for backups where no name is given', async () => {
    const { folder } = await measuredRecord();
    const station = openedStation(folder);
    const { file, entries } = await station.ask('back-up-record', {});
    expect(file.startsWith(join(folder, 'backups'))).toBe(true);
    expect(checkFile({ file }, quietly).entries).toBe(entries);
  });
});

/** The entries that a record had at a moment, while its station is open. */
async function openRecordEntries(folder: string, upTo: number, station: { close(): Promise<void> }) {
  await station.close();
  const record = openRecord(folder);
  const entries = [...record.entries()].slice(0, upTo);
  record.close();
  return entries;
}

describe('restoring', () => {
  it('keeps the record that was there under another name, and only where it is told to take its place', async () => {
    const [good, other] = [await measuredRecord(), await measuredRecord(4)];
    const again = () => restoreRecord(good.file, other.folder, { replace: false, going });
    expect(await problemOf(again())).toBe('record-exists');
    expect(checkFile({ file: other.file }, quietly).entries).toBe(other.entries.length);
    const { kept } = await restoreRecord(good.file, other.folder, { replace: true, going });
    expect(checkFile({ file: other.file }, quietly).entries).toBe(good.entries.length);
    expect(checkFile({ file: kept as string }, quietly).entries).toBe(other.entries.length);
  });

  it('refuses a copy that is not whole, and a record in use', async () => {
    const { file, folder } = await measuredRecord();
    const broken = join(temporaryFolder(), 'broken.sqlite');
    writeFileSync(broken, readFileSync(file).subarray(0, 30_000));
    const empty = temporaryFolder();
    expect(await problemOf(restoreRecord(broken, empty, { replace: false, going }))).toBe('record-damaged');
    expect(await problemOf(restoreRecord(join(empty, 'none'), empty, { replace: false, going }))).toBe(
      'file-unreadable',
    );
    expect(readdirSync(empty)).toEqual([]);
    openedStation(folder);
    expect(await problemOf(restoreRecord(file, folder, { replace: true, going }))).toBe('record-in-use');
  });
});

/** A record whose station was killed (its log was never written into it), with a copy of how it was after the first entry. */
async function killedRecord() {
  const { entries } = await measuredRecord();
  const alive = openRecord(temporaryFolder());
  for (const { run, event } of entries.slice(0, 5)) alive.append(run, [event]);
  const early = join(temporaryFolder(), 'early.sqlite');
  await backUp(alive.file, early, going);
  for (const { run, event } of entries.slice(5)) alive.append(run, [event]);
  const folder = temporaryFolder();
  const file = join(folder, 'reelohm.sqlite');
  for (const each of ['', '-wal']) copyFileSync(alive.file + each, file + each);
  alive.close();
  return { folder, file, early, all: entries.length };
}

describe('restoring after a kill', () => {
  it('keeps what was added last with the record that was there, in its one file', async () => {
    const { folder, early, all } = await killedRecord();
    const { kept, entries } = await restoreRecord(early, folder, { replace: true, going });
    expect(entries).toBe(5);
    expect(readdirSync(folder).filter((name) => name.startsWith('reelohm-kept'))).toEqual([basename(kept as string)]);
    expect(checkFile({ file: kept as string }, quietly).entries).toBe(all);
  });

  it('does not take a log that was left for that of the copy', async () => {
    const { folder, file, early } = await killedRecord();
    rmSync(file);
    const { hash } = await restoreRecord(early, folder, { replace: false, going });
    expect(checkFile({ file }, quietly)).toMatchObject({ entries: 5, hash });
  });

  it('leaves the folder never without a record, so that one that is killed meanwhile has not lost it', async () => {
    const { folder, file, early } = await killedRecord();
    const isDone = new Int32Array(new SharedArrayBuffer(4));
    const watching = new Worker(
      `const { existsSync } = require('node:fs'); const { parentPort, workerData } = require('node:worker_threads');
       parentPort.postMessage('begun');
       let without = 0; while (Atomics.load(workerData.isDone, 0) === 0) if (!existsSync(workerData.file)) without++;
       parentPort.postMessage(without);`,
      { eval: true, workerData: { file, isDone } },
    );
    await once(watching, 'message');
    const without = once(watching, 'message');
    try {
      for (let time = 0; time < 2; time++) await restoreRecord(early, folder, { replace: true, going });
    } finally {
      Atomics.store(isDone, 0, 1);
    }
    expect(await without).toEqual([0]);
  });
});

describe('a copy of a record that was cut or added to', () => {
  it.each([
    ['DELETE FROM entry WHERE position = (SELECT max(position) FROM entry)', 'record-cut'],
    [
      'INSERT INTO entry SELECT position + 1, run, event, hash, randomblob(32) FROM entry ORDER BY position DESC LIMIT 1',
      'record-altered',
    ],
  ])('is not made, as it would look whole: %s', async (sql, code) => {
    const { file } = await measuredRecord();
    const forger = new Database(file);
    // Without the mark of the last check: that of the end must do.
    forger.exec(`DROP TRIGGER entry_is_never_deleted; DELETE FROM mark WHERE name <> 'closed'; ${sql}`);
    forger.close();
    const copy = join(temporaryFolder(), 'copy.sqlite');
    expect(await problemOf(backUp(file, copy, going))).toBe(code);
    expect(existsSync(copy)).toBe(false);
  });
});

describe('an export', () => {
  it('is made while a run is measured, and imported it has the same hashes', async () => {
    const busy = await busyStation();
    const folder = join(temporaryFolder(), 'export');
    const exported = busy.station.ask('export-record', { folder });
    expect(await readingsUntil(busy.station, busy.run, exported)).toBeGreaterThan(3);
    const { entries, hash } = await exported;
    expect(readdirSync(folder).sort()).toEqual(['continuity.csv', 'entries.jsonl', 'lots.csv', 'readings.csv']);

    const elsewhere = temporaryFolder();
    const made = await importRecord(join(folder, 'entries.jsonl'), elsewhere, going);
    expect(made).toMatchObject({ entries, hash });
    const record = openRecord(elsewhere);
    const lines = readFileSync(join(folder, 'entries.jsonl'), 'utf8').trimEnd().split('\n');
    const said = lines.map((line) => JSON.parse(line));
    expect([...record.entries(), { entries, hash }]).toEqual(said);
    record.close();
    const station = openedStation(elsewhere);
    expect((await station.ask('overview', {})).runs).toHaveLength(2);
  });

  it('has lots and readings as CSV that a spreadsheet takes for no formula', async () => {
    const { folder } = await measuredRecord();
    const station = openedStation(folder);
    const claim = exampleLot();
    await station.ask('receive-lot', { claim: { ...claim, lot: { ...claim.lot, number: '=1+1' } } });
    const out = join(temporaryFolder(), 'export');
    await station.ask('export-record', { folder: out });
    const rows = (name: string): Record<string, string>[] => parse(readFileSync(join(out, name)), { columns: true });
    expect(rows('lots.csv').map(({ lot, disposition }) => [lot, disposition])).toEqual([
      ['L-2093', 'accepted'],
      ['L-2093', 'on-hold'],
      ['L-2093', ''],
      ["'=1+1", ''],
    ]);
    const readings = rows('readings.csv');
    expect(readings).toHaveLength(9);
    expect(readings.map(({ withdrawn }) => withdrawn)).toEqual(['', 'void', '', '', '', '', '', '', '']);
    for (const { ohms, exact_ohms, meter_text } of readings) {
      expect(Number(ohms)).toBe(Number(exact_ohms));
      expect(meter_text).toMatch(/^[+-]?\d/);
    }
    expect(await problemOf(station.ask('export-record', { folder: out }))).toBe('file-exists');
  });

  it('is not imported where a line was changed, left out, added or moved, or where there is a record', async () => {
    const { folder } = await measuredRecord();
    const station = openedStation(folder);
    const out = join(temporaryFolder(), 'export');
    await station.ask('export-record', { folder: out });
    const lines = readFileSync(join(out, 'entries.jsonl'), 'utf8').trimEnd().split('\n');
    const wrong: Record<string, string[]> = {
      changed: lines.with(4, (lines[4] as string).replace('"at":"20', '"at":"21')),
      'left out': lines.toSpliced(4, 1),
      added: lines.toSpliced(4, 0, lines[4] as string),
      moved: lines.toSpliced(4, 2, lines[5] as string, lines[4] as string),
      'no JSON': lines.with(4, '{'),
      'cut at a line end': lines.slice(0, 6),
      'without its end': lines.slice(0, -1),
      empty: [],
      'gone on with': [...lines, lines[4] as string],
      'cut, its end kept': [...lines.slice(0, 6), lines.at(-1) as string],
    };
    for (const [what, text] of Object.entries(wrong)) {
      const elsewhere = temporaryFolder();
      mkdirSync(join(elsewhere, 'in'));
      const file = join(elsewhere, 'in', 'entries.jsonl');
      writeFileSync(file, text.join('\n'));
      expect(await problemOf(importRecord(file, elsewhere, going)), what).toBe('record-import-wrong');
      expect(existsSync(join(elsewhere, 'reelohm.sqlite')), what).toBe(false);
    }
    await station.close();
    expect(await problemOf(importRecord(join(out, 'entries.jsonl'), folder, going))).toBe('record-exists');
  });
});
