import { describe, expect, it, onTestFinished } from 'vitest';
import { historyQuestion } from '../../../core/contract/history.ts';
import { counts } from '../../../core/inspection/run.ts';
import { openRecord } from '../../../main/record/record.ts';
import { rowOf } from '../../../main/record/runRow.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation } from '../../openedStation.ts';
import { BY, readyBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { measuredRecord } from './measuredRecord.ts';

async function receive(station: Station, change: { part?: string; lot?: string; supplier?: string; by?: string }) {
  const claim = exampleLot();
  const { part = claim.part.number, lot = 'L-1', supplier = 'Example Supply', by = BY } = change;
  const asked = {
    ...claim,
    inspector: by,
    part: { ...claim.part, number: part },
    lot: { ...claim.lot, number: lot, supplier },
  };
  return (await station.ask('receive-lot', { claim: asked })).run;
}

const numbers = (station: Station, question: Parameters<typeof station.ask<'history'>>[1]) =>
  station.ask('history', question).then(({ rows }) => rows.map(({ run }) => run));

describe('the history', () => {
  it('is searched by part, supplier, lot, inspector, disposition, day and text', async () => {
    const station = openedStation();
    await receive(station, { lot: 'L-1' });
    await receive(station, { lot: 'L-2', supplier: 'Überlingen Parts' });
    await receive(station, { part: 'TF-100K', lot: 'L-3', by: 'Ada' });
    await station.ask('decide-lot', { run: 2, disposition: 'on-hold', by: BY, reason: 'wet' });
    expect(await numbers(station, {})).toEqual([3, 2, 1]);
    expect(await numbers(station, { order: 'earliest-first' })).toEqual([1, 2, 3]);
    expect(await numbers(station, { part: 'TF-100K' })).toEqual([3]);
    expect(await numbers(station, { supplier: 'Example Supply' })).toEqual([3, 1]);
    expect(await numbers(station, { lot: 'L-2' })).toEqual([2]);
    expect(await numbers(station, { inspector: 'Ada' })).toEqual([3]);
    expect(await numbers(station, { disposition: 'on-hold' })).toEqual([2]);
    expect(await numbers(station, { disposition: 'undecided', part: 'TF-4K7-1' })).toEqual([1]);
    expect(await numbers(station, { text: 'überl' })).toEqual([2]);
    expect(await numbers(station, { text: 'tf-1' })).toEqual([3]);
    expect(await numbers(station, { text: 'tf%' })).toEqual([]);
    expect(await numbers(station, { practice: true })).toEqual([]);
    expect(await numbers(station, { study: false })).toEqual([3, 2, 1]);
    const today = new Date();
    const day = (offset: number) => {
      const other = new Date(today.getFullYear(), today.getMonth(), today.getDate() + offset, 12);
      return other.toISOString().slice(0, 10);
    };
    expect(await numbers(station, { from: day(-1), to: day(1) })).toEqual([3, 2, 1]);
    expect(await numbers(station, { from: day(2) })).toEqual([]);
    expect(await numbers(station, { to: day(-2) })).toEqual([]);
  });

  it('comes a page at a time, with how many there are in all', async () => {
    const station = openedStation();
    for (let lot = 1; lot <= 5; lot++) await receive(station, { lot: `L-${lot}` });
    const first = await station.ask('history', { most: 2 });
    expect([first.rows.map(({ run }) => run), first.total]).toEqual([[5, 4], 5]);
    const second = await station.ask('history', { most: 2, after: first.next ?? undefined });
    const third = await station.ask('history', { most: 2, after: second.next ?? undefined });
    expect([second, third].map(({ rows }) => rows.map(({ run }) => run))).toEqual([[3, 2], [1]]);
    expect(third.next).toBeNull();
    expect((await station.ask('overview', {})).runCount).toBe(5);
  });

  it('has a run under way as it is now, though its row waits for the next event beside its readings', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const run = await receive(station, {});
    await readyBench(station, run);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });
    expect((await station.ask('history', {})).rows[0]).toMatchObject({ counted: 3, simulated: true, step: 'measure' });
    await station.close();
    const record = openRecord(folder);
    onTestFinished(() => record.close());
    expect(record.rows.stale()).toEqual([]);
    expect(record.rows.of(run)).toMatchObject({ counted: 3 });
  });

  it('has figures of a lot that is decided, as they are by its readings', async () => {
    const { folder } = await measuredRecord(12);
    const station = openedStation(folder);
    const { rows } = await station.ask('history', { order: 'earliest-first' });
    const { readings } = await runOf(station, 1);
    const ohms = [...readings].filter(counts).map((reading) => Number(reading.ohms));
    // Twelve pieces near their nominal value: none is a stray. Mean and standard deviation by their definitions.
    const mean = ohms.reduce((sum, each) => sum + each, 0) / ohms.length;
    const deviation = Math.sqrt(ohms.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (ohms.length - 1));
    expect(rows[0]?.figures).toMatchObject({
      count: 12,
      leftOut: 0,
      lowestOhms: Math.min(...ohms),
      highestOhms: Math.max(...ohms),
    });
    expect(rows[0]?.figures?.meanOhms).toBeCloseTo(mean, 9);
    expect(rows[0]?.figures?.standardDeviationOhms).toBeCloseTo(deviation, 9);
    expect(rows[0]).toMatchObject({ disposition: 'accepted', decidedBy: BY, certificates: 1, counted: 12 });
    expect(rows[2]).toMatchObject({ disposition: null, figures: null, ppk: null });
    const [ofLots] = await station.ask('lot-history', { run: 1 });
    expect(ofLots).toMatchObject({ count: 12, meanOhms: rows[0]?.figures?.meanOhms });
  });

  it('is made from the entries alone: forgotten and made again it is the same', async () => {
    const { folder } = await measuredRecord(12);
    const record = openRecord(folder);
    const asked = historyQuestion.parse({});
    const before = record.rows.find(asked);
    record.forgetRows();
    expect(record.rows.find(asked).rows).toEqual([]);
    expect(record.rows.stale()).toEqual([1, 2, 3]);
    record.close();
    const station = openedStation(folder);
    expect(await station.ask('history', {})).toEqual(before);
  });

  it('is none that decides: a row that is wrong changes neither the run nor its certificate', async () => {
    const { folder } = await measuredRecord();
    const record = openRecord(folder);
    const station = openedStation(folder, record);
    const run = await runOf(station, 1);
    const forged = rowOf(1, { ...run, decided: null, tally: { ...run.tally, nonconforming: 99 } }, record.size());
    if (forged) record.rows.keep([forged]);
    expect((await runOf(station, 1)).decided).toEqual(run.decided);
    expect((await runOf(station, 1)).tally.nonconforming).toBe(run.tally.nonconforming);
  });
});
