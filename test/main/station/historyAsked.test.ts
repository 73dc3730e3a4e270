import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { openRecord } from '../../../main/record/record.ts';
import type { RunRow } from '../../../main/record/runRow.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { measuredRecord } from '../record/measuredRecord.ts';

const DAY = 86_400_000;

/** A station in whose tables stand lots of our own, one a day, made from the row of a measured one; the entries have no such runs. */
async function withLots(count: number, change: (number: number) => Partial<RunRow>) {
  const { folder } = await measuredRecord();
  const record = openRecord(folder);
  const row = record.rows.of(1);
  if (row === null) throw new Error('run 1 has no row');
  record.rows.keep(
    Array.from({ length: count }, (_, index) => ({
      ...row,
      simulated: false,
      upTo: record.size(),
      voided: 0,
      suspect: 0,
      outcome: null,
      practised: null,
      withdrawn: () => [],
      run: 100 + index,
      lot: `X-${index}`,
      part: 'X',
      receivedAt: new Date(Date.UTC(2020, 0, 10, 12) + index * DAY).toISOString(),
      ...change(index),
    })),
  );
  return openedStation(folder, record);
}

const figures = (meanOhms: number, standardDeviationOhms: number, count = 11) => ({
  count,
  leftOut: 0,
  meanOhms,
  standardDeviationOhms,
  lowestOhms: meanOhms,
  highestOhms: meanOhms,
});

describe('trends of the lots that are looked for', () => {
  it('have a point for each lot that is decided, in ohms for one part, and count all dispositions', async () => {
    const station = await withLots(5, (number) => ({
      disposition: (['accepted', 'not-accepted', 'on-hold', null, 'accepted'] as const)[number] ?? null,
      figures: number === 3 ? null : figures(4700 + number, 1 + number),
      counted: 20,
      nonconforming: number,
      ppk: number === 0 ? 1.5 : null,
      lowerOhms: 4653,
      nominalOhms: 4700,
      upperOhms: 4747,
    }));
    const trends = await station.ask('history-trends', { part: 'X' });
    expect(trends).toMatchObject({ unit: 'ohms', practice: false, by: 'lot', lots: 5 });
    expect(trends.dispositions).toEqual({ accepted: 2, 'not-accepted': 1, 'on-hold': 1, studied: 0, undecided: 1 });
    expect(trends.points.map(({ name }) => name)).toEqual(['X-0', 'X-1', 'X-2', 'X-4']);
    expect(trends.points[1]).toMatchObject({
      run: 101,
      lots: 1,
      mean: 4701,
      spread: 2,
      lower: 4653,
      upper: 4747,
      measured: 20,
      nonconforming: 1,
      ppk: null,
      disposition: 'not-accepted',
    });
    expect(trends.points[0]?.ppk).toBe(1.5);
    const filtered = await station.ask('history-trends', { part: 'X', disposition: 'accepted', from: '2020-01-12' });
    expect(filtered.points.map(({ run }) => run)).toEqual([104]);
  });

  it('are in per cent of the nominal value where parts differ', async () => {
    const station = await withLots(2, (number) => ({
      part: `X${number}`,
      supplier: 'Other',
      disposition: 'accepted',
      nominalOhms: 1000 * (number + 1),
      lowerOhms: 990 * (number + 1),
      upperOhms: null,
      figures: figures(1005 * (number + 1), 2 * (number + 1)),
    }));
    const { unit, points } = await station.ask('history-trends', { supplier: 'Other' });
    expect(unit).toBe('percent');
    for (const { mean, spread, lower, upper } of points) {
      expect([mean, spread, lower]).toEqual([expect.closeTo(0.5, 9), expect.closeTo(0.2, 9), expect.closeTo(-1, 9)]);
      expect(upper).toBeNull();
    }
  });

  it('never mix practice with real lots, and show practice only where there is nothing else', async () => {
    const station = await withLots(4, (number) => ({ disposition: 'accepted', simulated: number % 2 === 0 }));
    expect(await station.ask('history-trends', { part: 'X' })).toMatchObject({ practice: false, lots: 2 });
    expect(await station.ask('history-trends', { part: 'X', practice: true })).toMatchObject({
      practice: true,
      lots: 2,
    });
    // The lots of this part were measured on the simulated bench, or not at all.
    expect(await station.ask('history-trends', { part: 'TF-4K7-1' })).toMatchObject({ practice: true, lots: 1 });
  });

  it('are by month of more than 2000 lots, with pooled spreads', async () => {
    const station = await withLots(2001, (number) => ({
      disposition: 'accepted',
      counted: 10,
      nonconforming: number % 2,
      figures: figures(number % 2 === 0 ? 99 : 101, number % 2 === 0 ? 3 : 4),
      ppk: 1 + number / 10_000,
      lowerOhms: 90,
      upperOhms: number < 100 ? 110 : number % 2 === 0 ? 110 : 111,
    }));
    const { by, lots, points } = await station.ask('history-trends', { part: 'X' });
    expect([by, lots]).toEqual(['month', 2001]);
    expect(points.reduce((sum, month) => sum + month.lots, 0)).toBe(2001);
    // February 2020: days 22 to 50 after 10 January, 29 lots, 15 of them even.
    const february = points.find(({ name }) => name === '2020-02');
    expect(february).toMatchObject({ run: null, lots: 29, measured: 290, nonconforming: 14, lower: 90, upper: 110 });
    expect(february?.mean).toBeCloseTo((15 * 99 + 14 * 101) / 29, 9);
    // All of 11 readings: the pooled variance is the mean of the variances (by its definition).
    expect(february?.spread).toBeCloseTo(Math.sqrt((15 * 9 + 14 * 16) / 29), 9);
    expect(february?.ppk).toBeCloseTo(1.0022, 9);
    expect(points.at(-2)?.upper).toBeNull();
  });
});

describe('the history taken along', () => {
  it('has all runs that are looked for, in order, safe for spreadsheets and never over a file', async () => {
    const station = await withLots(1203, (number) => ({
      disposition: 'accepted',
      description: '=HYPERLINK("x")',
      supplier: 'A, "B"',
      ppk: number === 0 ? 1e-7 : null,
    }));
    const { file, rows } = await station.ask('export-history', { filters: { part: 'X', order: 'earliest-first' } });
    const text = readFileSync(file, 'utf8');
    expect([rows, text.split('\r\n').length - 2]).toEqual([1203, 1203]);
    const read = parse(text, { columns: true, record_delimiter: '\r\n' }) as Record<string, string>[];
    expect(read.map(({ lot }) => lot)).toEqual(Array.from({ length: 1203 }, (_, index) => `X-${index}`));
    expect(read[0]).toMatchObject({
      description: '\'=HYPERLINK("x")',
      supplier: 'A, "B"',
      ppk: '0.0000001',
      practice: 'no',
      lower_ohms: '4653',
    });
    const again = await station.ask('export-history', { filters: { part: 'X' } });
    expect(again.file).toBe(file.replace(/\.csv$/, '-2.csv'));
    const named = join(temporaryFolder(), 'mine.csv');
    await station.ask('export-history', { filters: { lot: 'X-7' }, file: named });
    expect(await problemOf(station.ask('export-history', { filters: {}, file: named }))).toBe('certificate-exists');
    expect(readFileSync(named, 'utf8').split('\r\n').length).toBe(3);
  });

  it('stopped in the middle leaves no file', async () => {
    const station = await withLots(3000, () => ({ disposition: 'accepted' }));
    const folder = (await station.ask('overview', {})).certificateFolder;
    const before = existsSync(folder) ? readdirSync(folder) : [];
    station.listen((news) => {
      if (news.kind === 'work' && news.progress) void station.ask('stop-work', { work: 'w' });
    });
    expect(await problemOf(station.ask('export-history', { work: 'w', filters: {} }))).toBe('work-stopped');
    expect(readdirSync(folder)).toEqual(before);
  });
});

describe('what is known of the record', () => {
  it('is where it is, how large, and how it was found; the names in it are offered', async () => {
    const { folder, file, entries } = await measuredRecord();
    const station = openedStation(folder);
    const facts = await station.ask('record-facts', {});
    expect(facts).toMatchObject({ file, entries: entries.length, runs: 3, lastCheck: null });
    expect(facts.bytes).toBeGreaterThan(4096);
    await station.ask('check-record', {});
    const { lastCheck } = await station.ask('record-facts', {});
    expect(lastCheck).toMatchObject({ entries: entries.length, problem: null });
    expect(Math.abs(Date.parse(lastCheck?.at ?? '') - Date.now())).toBeLessThan(60_000);
    expect(await station.ask('history-names', {})).toEqual({
      parts: ['TF-4K7-1'],
      suppliers: ['Example Supply'],
      inspectors: [BY],
    });
    const claim = exampleLot();
    await station.ask('receive-lot', { claim: { ...claim, lot: { ...claim.lot, supplier: '' } } });
    await station.ask('receive-lot', { claim: { ...claim, part: { ...claim.part, number: 'A-1' } } });
    expect(await station.ask('history-names', {})).toMatchObject({
      parts: ['A-1', 'TF-4K7-1'],
      suppliers: ['Example Supply'],
    });
  });

  it('keeps what a check found that failed, and takes a file it cannot read for no check', async () => {
    const { folder, file } = await measuredRecord();
    const station = openedStation(folder);
    const { default: Database } = await import('better-sqlite3');
    const forger = new Database(file);
    forger.exec('DROP TRIGGER entry_is_never_changed');
    forger.exec("UPDATE entry SET event = replace(event, 'slipped', 'slept') WHERE event LIKE '%slipped%'");
    forger.close();
    expect(await problemOf(station.ask('check-record', {}))).toBe('record-altered');
    expect((await station.ask('record-facts', {})).lastCheck).toMatchObject({ problem: { code: 'record-altered' } });
    writeFileSync(join(folder, 'record-check.json'), 'no JSON');
    expect((await station.ask('record-facts', {})).lastCheck).toBeNull();
  });
});
