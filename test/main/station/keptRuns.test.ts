import { setImmediate } from 'node:timers/promises';
import { describe, expect, it, onTestFinished } from 'vitest';
import { fold } from '../../../core/inspection/apply.ts';
import type { InspectionEvent } from '../../../core/inspection/event.ts';
import { openRecord, type Record } from '../../../main/record/record.ts';
import { KeptRuns } from '../../../main/station/keptRuns.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY, readyBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { keep, longRun } from './longRun.ts';

const going = { tell: () => undefined, throwIfStopped: () => undefined };
const nobodyNeeds = () => false;

async function recordOf(runs: number, readings: number): Promise<{ record: Record; events: InspectionEvent[] }> {
  const events = await longRun(readings);
  const record = openRecord(temporaryFolder());
  onTestFinished(() => record.close());
  for (let run = 1; run <= runs; run++) keep(record, run, events);
  return { record, events };
}

describe('runs that are kept', () => {
  it('are what their entries make, loaded or taken at once, and other runs may stand between', async () => {
    const { record, events } = await recordOf(2, 3000);
    record.append(1, [{ type: 'hold-lifted', at: '2026-03-02T14:05:09.120+01:00', by: BY, reason: 'agreed' }]);
    const runs = new KeptRuns(record, nobodyNeeds);
    const { run, position } = await runs.load(1, going);
    expect(position).toBe(record.size());
    expect(run.decided).toBeNull();
    expect([...run.readings]).toEqual([...(fold(events)?.readings ?? [])]);
    expect(runs.now(2).run.decided).toMatchObject({ disposition: 'on-hold' });
    expect(() => runs.now(3)).toThrowError(expect.objectContaining({ code: 'run-unknown' }));
    expect(await problemOf(runs.load(3, going))).toBe('run-unknown');
    expect(runs.find(3)).toBeNull();
  });

  it('have in them what was added while they were loaded', async () => {
    const { record } = await recordOf(1, 3000);
    const runs = new KeptRuns(record, nobodyNeeds);
    const loading = runs.load(1, going);
    await setImmediate();
    expect(runs.has(1)).toBe(false);
    // Past this class, as nothing is in the product: it must be seen nevertheless.
    record.append(1, [{ type: 'hold-lifted', at: '2026-03-02T14:05:09.120+01:00', by: BY, reason: 'agreed' }]);
    expect((await loading).run.decided).toBeNull();
    expect((await loading).position).toBe(record.size());
  });

  it('are let go, those asked for last the last, but never those that are needed', async () => {
    const { record } = await recordOf(5, 1000);
    // A run counts for its readings and 500: three of them have room.
    const runs = new KeptRuns(record, (run) => run === 1, 4600);
    for (const run of [1, 2, 3]) runs.now(run);
    expect([1, 2, 3].map((run) => runs.has(run))).toEqual([true, true, true]);
    runs.now(2);
    runs.now(4);
    expect([1, 2, 3, 4].map((run) => runs.has(run))).toEqual([true, true, false, true]);
    runs.now(5);
    expect([1, 2, 3, 4, 5].map((run) => runs.has(run))).toEqual([true, false, false, true, true]);
  });

  it('tell how far they are read, and stop when told to', async () => {
    const { record, events } = await recordOf(1, 5000);
    const runs = new KeptRuns(record, nobodyNeeds);
    const told: number[] = [];
    await runs.load(1, { ...going, tell: ({ done, of }) => told.push(done / of) });
    expect(told).toEqual(Array.from({ length: 20 }, (_, index) => ((index + 1) * 250) / events.length));
    const other = new KeptRuns(record, nobodyNeeds);
    let asked = 0;
    const stopped = () => {
      asked++;
      if (asked === 2) throw new Error('stopped');
    };
    await expect(other.load(1, { ...going, throwIfStopped: stopped })).rejects.toThrow('stopped');
    expect(other.has(1)).toBe(false);
  });

  it('leave a row behind that is up to their readings when they are let go', async () => {
    const { record, events } = await recordOf(1, 10);
    const begun = events.slice(0, -1);
    const runs = new KeptRuns(record, nobodyNeeds, 1);
    const beside = begun.filter(({ type }) => type !== 'reading-taken');
    const readings = begun.filter(({ type }) => type === 'reading-taken');
    runs.append(2, beside);
    for (const reading of readings) runs.append(2, [reading]);
    expect(record.rows.of(2)).toMatchObject({ counted: 0 });
    runs.append(3, beside);
    expect(runs.has(2)).toBe(false);
    expect(record.rows.of(2)).toMatchObject({ counted: 10 });
    expect(record.rows.stale()).toEqual([1]);
  });
});

describe('a station with many runs', () => {
  it('opens a run that is not kept while another is measured, and can be stopped', async () => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    keep(record, 1, await longRun(20_000));
    record.close();
    const station = openedStation(folder);
    const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 50, accept: 1 }) });
    await readyBench(station, run);
    station.listen((news) => {
      if (news.kind === 'work' && news.work === 'w' && news.progress) void station.ask('stop-work', { work: 'w' });
    });
    expect(await problemOf(station.ask('open-run', { run: 1, work: 'w' }))).toBe('work-stopped');
    let isOpen = false;
    const opened = runOf(station, 1).finally(() => {
      isOpen = true;
    });
    let readings = 0;
    while (!isOpen && readings < 40) {
      await station.ask('take-reading', { run });
      readings++;
    }
    expect(readings).toBeGreaterThan(3);
    expect((await opened).readings.size).toBe(20_000);
  });
});
