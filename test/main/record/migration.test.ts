import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { Entry } from '../../../core/contract/contract.ts';
import { checkFile } from '../../../main/record/checkFile.ts';
import { openRecord } from '../../../main/record/record.ts';
import { SCHEMA_VERSION } from '../../../main/record/schema.ts';
import { isOfInspection } from '../../../main/station/foldOne.ts';
import { openedStation } from '../../openedStation.ts';
import { runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { longRun } from '../station/longRun.ts';
import { recordOf } from './earlierRecords.ts';
import { measuredRecord } from './measuredRecord.ts';

const quietly = () => undefined;

describe('a record of an earlier schema', () => {
  const earlier = Array.from({ length: SCHEMA_VERSION - 1 }, (_, index) => index + 1);

  it.each(earlier)('of version %i is brought to this one: every entry and hash as it was', async (version) => {
    const { entries } = await measuredRecord();
    const folder = temporaryFolder();
    const file = recordOf(version, folder, entries);
    expect(checkFile({ file }, quietly)).toMatchObject({ entries: entries.length, hash: entries.at(-1)?.hash });

    const record = openRecord(folder);
    expect([...record.entries()]).toEqual(entries);
    for (const run of [1, 2, 3]) {
      expect([...record.entries(run)]).toEqual(entries.filter((entry) => entry.run === run));
    }
    expect([record.nextRun(), record.size()]).toEqual([4, entries.length]);
    record.close();
    expect(checkFile({ file }, quietly)).toMatchObject({
      entries: entries.length,
      runs: 3,
      hash: entries.at(-1)?.hash,
    });
    const database = new Database(file, { readonly: true });
    onTestFinished(() => void database.close());
    expect(database.pragma('user_version', { simple: true })).toBe(SCHEMA_VERSION);
    expect(() => new Database(file).exec('DELETE FROM entry')).toThrow('never deleted');

    const station = openedStation(folder);
    const { runs, runCount } = await station.ask('overview', {});
    expect(runCount).toBe(3);
    expect(runs.map(({ disposition }) => disposition)).toEqual(['accepted', 'on-hold', null]);
    expect((await runOf(station, 1)).readings.size).toBe(9);
  });

  it('is refused where it was altered, and left as it is', async () => {
    const { entries } = await measuredRecord();
    const folder = temporaryFolder();
    const altered = entries.map((entry) => (entry.position === 5 ? { ...entry, run: 3 } : entry));
    const file = recordOf(1, folder, altered);
    expect(() => openRecord(folder)).toThrowError(expect.objectContaining({ code: 'record-altered' }));
    const database = new Database(file, { readonly: true });
    onTestFinished(() => void database.close());
    expect(database.pragma('user_version', { simple: true })).toBe(1);
    expect(database.prepare('SELECT count(*) FROM entry').pluck().get()).toBe(entries.length);
  });

  it('is the old one or the new one, whole, wherever the process is killed while it is brought over', async () => {
    const events = await longRun(20_000);
    const before = temporaryFolder();
    const made = recordOf(1, before, chained(events));
    const took = await timeOfMigration(copied(made).file, null);
    let old = 0;
    for (let kill = 0; kill < 6; kill++) {
      const { file, folder } = copied(made);
      await timeOfMigration(file, (took * (kill + 0.5)) / 8);
      const checked = checkFile({ file }, quietly);
      expect(checked.entries).toBe(events.length);
      const database = new Database(file, { readonly: true });
      if (database.pragma('user_version', { simple: true }) === 1) old++;
      database.close();
      const record = openRecord(folder);
      expect(record.end().hash).toBe(checked.hash);
      record.close();
    }
    // Some kills fell into the middle of it, or nothing was tried.
    expect(old).toBeGreaterThan(0);
  });
});

/** Opens a record in a process of its own. @param killed milliseconds after the beginning of it; null: not at all */
async function timeOfMigration(file: string, killed: number | null): Promise<number> {
  const child = spawn(process.execPath, [join(import.meta.dirname, 'openingProcess.ts'), join(file, '..')], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await once(child.stdout, 'data');
  const began = performance.now();
  const exit = once(child, 'exit');
  if (killed !== null) {
    await wait(killed);
    child.kill('SIGKILL');
  }
  await exit;
  return performance.now() - began;
}

function copied(file: string): { file: string; folder: string } {
  const folder = temporaryFolder();
  const copy = join(folder, 'reelohm.sqlite');
  copyFileSync(file, copy);
  return { file: copy, folder };
}

/** Events as entries of run 1 in a record of their own. */
function chained(events: Awaited<ReturnType<typeof longRun>>): Entry[] {
  const record = openRecord(temporaryFolder());
  record.append(1, events);
  const entries = [...record.entries()].filter(isOfInspection);
  record.close();
  return entries;
}
