import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { readingOf } from '../../../core/continuity/continuityRun.ts';
import { decideContinuity } from '../../../core/continuity/decide.ts';
import type { ContinuityEvent } from '../../../core/continuity/event.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { checkFile } from '../../../main/record/checkFile.ts';
import { importRecord } from '../../../main/record/importRecord.ts';
import { openRecord, type Record } from '../../../main/record/record.ts';
import { KeptContinuity } from '../../../main/station/keptContinuity.ts';
import { KeptRuns } from '../../../main/station/keptRuns.ts';
import { readyingRecord } from '../../../main/station/readyingRecord.ts';
import { Bench, wiring } from '../../core/continuity/measured.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation } from '../../openedStation.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

const quietly = () => undefined;
const CSV = 'from,to\nA1,B1\nA2,B2\n';

/** The events of a run, one command after the other. */
function eventsOf(): ContinuityEvent[] {
  const events: ContinuityEvent[] = [];
  const bench = new Bench(CSV);
  events.push({ type: 'continuity-received', at: bench.now.receivedAt, facts: factsOf(bench) });
  const known = bench.do.bind(bench);
  bench.do = (command) => {
    const outcome = decideContinuity(bench.run, command, bench.now.receivedAt);
    if (outcome instanceof Problem) throw outcome;
    events.push(...outcome);
    return known(command);
  };
  bench.connect().all(wiring([['A1', 'B1']]));
  return events;
}

function factsOf({ now }: Bench) {
  const { inspector, title, drawing, serial, points, cross, limits, checksEveryReadings } = now;
  return { inspector, title, drawing, serial, points, cross, limits, checksEveryReadings };
}

const make = (record: Record) => {
  for (const _ of readyingRecord(record));
};

describe('a continuity run in the record', () => {
  it('shares the one chain with inspection runs, and each is of its own kind', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    await station.ask('receive-lot', { claim: exampleLot() });
    await station.close();
    const record = openRecord(folder);
    make(record);
    const kept = new KeptContinuity(record);
    const number = record.nextRun();
    expect(number).toBe(2);
    for (const event of eventsOf()) kept.append(number, [event]);
    expect(kept.now(number).readings.size).toBe(3);
    expect(() => kept.now(1)).toThrowError(expect.objectContaining({ code: 'continuity-not-such-a-run' }));
    expect(() => new KeptRuns(record, () => false).now(number)).toThrowError(
      expect.objectContaining({ code: 'continuity-not-such-a-run' }),
    );
    expect(record.rows.count()).toBe(1);
    kept.settle();
    expect(record.continuity.list({ text: 'DOOR', most: 9 })).toMatchObject({
      total: 1,
      runs: [{ run: 2, title: 'Door harness', pointCount: 3, asExpected: 2, notAsExpected: 1, step: 'decide' }],
    });
    expect(record.continuity.list({ text: 'window', most: 9 })).toEqual({ runs: [], total: 0 });
    record.close();
    expect(checkFile({ file: record.file }, quietly)).toMatchObject({ runs: 2 });
  });

  it('goes on where it was after the process was killed in its middle, and its row is made again', () => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    const kept = new KeptContinuity(record);
    const events = eventsOf();
    const upTo = events.findIndex(({ type }) => type === 'continuity-point-read') + 2;
    for (const event of events.slice(0, upTo)) kept.append(1, [event]);
    // What a kill leaves: the file as it is on the disk, never closed.
    const copy = temporaryFolder();
    const source = new Database(record.file, { readonly: true });
    source.exec(`VACUUM INTO '${join(copy, 'reelohm.sqlite')}'`);
    source.close();
    const again = openRecord(copy);
    expect(again.rows.stale()).toEqual([1]);
    make(again);
    expect(again.rows.stale()).toEqual([]);
    const resumed = new KeptContinuity(again);
    expect(resumed.now(1).readings.size).toBe(2);
    expect(readingOf(resumed.now(1), 1)?.verdict).toBe('as-expected');
    for (const event of events.slice(upTo)) resumed.append(1, [event]);
    expect(resumed.now(1).readings.size).toBe(3);
    again.close();
    record.close();
    expect(checkFile({ file: join(copy, 'reelohm.sqlite') }, quietly)).toMatchObject({ entries: events.length });
  });

  it('is exported and imported with its hashes, and stands in a file for spreadsheets', async () => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    const kept = new KeptContinuity(record);
    for (const event of eventsOf()) kept.append(1, [event]);
    kept.settle();
    record.close();
    const station = openedStation(folder);
    const out = join(temporaryFolder(), 'export');
    const { hash } = await station.ask('export-record', { folder: out });
    const rows: object[] = parse(readFileSync(join(out, 'continuity.csv')), { columns: true });
    expect(rows).toMatchObject([{ run: '1', title: 'Door harness', points: '3', not_as_expected: '1', practice: '0' }]);
    const elsewhere = temporaryFolder();
    const going = { tell: quietly, signal: new AbortController().signal, throwIfStopped: quietly };
    expect(await importRecord(join(out, 'entries.jsonl'), elsewhere, going)).toMatchObject({ hash });
    const backup = join(temporaryFolder(), 'copy.sqlite');
    expect(await station.ask('back-up-record', { file: backup })).toMatchObject({ hash, runs: 1 });
    expect(await station.ask('check-record', {})).toMatchObject({ hash, runs: 1 });
  });

  it('is told from an altered one: a row that says otherwise, an entry of the other kind', () => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    const kept = new KeptContinuity(record);
    for (const event of eventsOf()) kept.append(1, [event]);
    kept.settle();
    record.append(1, [{ type: 'run-interrupted', at: '2026-11-27T10:00:00Z', why: 'x' }]);
    record.close();
    const codeOf = (): string => {
      try {
        checkFile({ file: record.file }, quietly);
      } catch (thrown) {
        return (thrown as Problem).code;
      }
      return 'found intact';
    };
    expect(codeOf()).toBe('record-altered');
    const other = openRecord(temporaryFolder());
    const one = new KeptContinuity(other);
    for (const event of eventsOf()) one.append(1, [event]);
    other.close();
    const forger = new Database(other.file);
    forger.exec('UPDATE continuity_run SET not_as_expected = 0');
    forger.close();
    try {
      checkFile({ file: other.file }, quietly);
      expect.unreachable('the row was taken for good');
    } catch (thrown) {
      expect((thrown as Problem).code).toBe('record-rows-altered');
    }
  });
});
