import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { factsOf, lotClaim } from '../../../core/inspection/lotClaim.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { openRecord, type Record } from '../../../main/record/record.ts';
import { exampleLot } from '../../exampleLot.ts';
import { readOnlyFolder, smallDisk, spareBytes } from '../../smallDisk.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

const AT = '2026-03-02T14:05:09.120+01:00';
const RECEIVED = { type: 'lot-received', at: AT, facts: factsOf(lotClaim.parse(exampleLot())) } as const;
const INTERRUPTED = { type: 'run-interrupted', at: AT, why: 'the plug is out' } as const;
const CONTINUED = { type: 'run-continued', at: AT } as const;

function open(folder: string): Record {
  const record = openRecord(folder);
  onTestFinished(() => record.close());
  return record;
}

function codeOf(action: () => unknown): string {
  try {
    action();
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown.code;
    throw thrown;
  }
  return 'nothing was thrown';
}

describe('the record', () => {
  it('keeps entries over closing and opening, each tied to the one before', () => {
    const folder = temporaryFolder();
    const first = openRecord(folder);
    const kept = [...first.append(1, [RECEIVED, INTERRUPTED]), ...first.append(2, [RECEIVED])];
    first.close();

    const again = open(folder);
    expect([...again.entries()]).toEqual(kept);
    expect([...again.entries(2)]).toEqual(kept.slice(2));
    expect(again.nextRun()).toBe(3);
    expect(kept.map((entry) => entry.position)).toEqual([1, 2, 3]);
    expect(kept[0]?.previous).toBe('0'.repeat(64));
    expect(kept[2]?.previous).toBe(kept[1]?.hash);
    const [next] = again.append(1, [CONTINUED]);
    expect(next?.previous).toBe(kept[2]?.hash);
  });

  it('is durable at each commit and may be read by others meanwhile', () => {
    const folder = temporaryFolder();
    const record = open(folder);
    record.append(1, [RECEIVED]);
    const reader = new Database(record.file, { readonly: true });
    onTestFinished(() => void reader.close());
    expect(reader.prepare('SELECT count(*) FROM entry').pluck().get()).toBe(1);
    expect(reader.pragma('journal_mode', { simple: true })).toBe('wal');
  });

  it('refuses a second station and lets one in when the first is gone', () => {
    const folder = temporaryFolder();
    const first = openRecord(folder);
    expect(codeOf(() => openRecord(folder))).toBe('record-in-use');
    first.append(1, [RECEIVED]);
    first.close();
    expect(open(folder).nextRun()).toBe(2);
  });

  it('never changes or deletes an entry', () => {
    const folder = temporaryFolder();
    const record = open(folder);
    record.append(1, [RECEIVED]);
    const other = new Database(record.file);
    onTestFinished(() => void other.close());
    expect(() => other.exec("UPDATE entry SET event = '{}'")).toThrow('never changed');
    expect(() => other.exec('DELETE FROM entry')).toThrow('never deleted');
  });

  it('writes nothing that it could not read back', () => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    record.append(1, [RECEIVED]);
    const unreadable = { ...CONTINUED, at: 'yesterday' };
    expect(codeOf(() => record.append(1, [CONTINUED, unreadable]))).toBe('record-failed');
    record.close();
    expect([...open(folder).entries()]).toHaveLength(1);
  });

  it.each([
    ['the text of an event', "UPDATE entry SET event = replace(event, '4700', '4701') WHERE position = 1", 1],
    ['a hash', 'UPDATE entry SET hash = randomblob(32) WHERE position = 2', 2],
    ['a missing entry', 'DELETE FROM entry WHERE position = 2', 3],
    ['an entry moved to another run', 'UPDATE entry SET run = 9 WHERE position = 3', 3],
  ])('shows an alteration: %s', (_what, sql, at) => {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    record.append(1, [RECEIVED, INTERRUPTED, CONTINUED]);
    record.close();
    const forger = new Database(join(folder, 'reelohm.sqlite'));
    forger.exec('DROP TRIGGER entry_is_never_changed; DROP TRIGGER entry_is_never_deleted');
    forger.exec(sql);
    forger.close();
    const altered = open(folder);
    expect(() => [...altered.entries()]).toThrow(`entry ${at} does not fit`);
  });

  it('says what is wrong with a file that is no record, and leaves it as it is', () => {
    const folder = temporaryFolder();
    const file = join(folder, 'reelohm.sqlite');
    writeFileSync(file, 'this is a shopping list, not a database file at all'.repeat(40));
    const before = readFileSync(file);
    expect(codeOf(() => openRecord(folder))).toBe('record-unusable');
    expect(readFileSync(file)).toEqual(before);
  });

  it('refuses a record made by a newer version', () => {
    const folder = temporaryFolder();
    openRecord(folder).close();
    const newer = new Database(join(folder, 'reelohm.sqlite'));
    newer.pragma('user_version = 99');
    newer.close();
    expect(codeOf(() => openRecord(folder))).toBe('record-unusable');
  });

  it('says so where the folder cannot be made', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'file'), '');
    expect(codeOf(() => openRecord(join(folder, 'file', 'below')))).toBe('record-unusable');
  });

  it('says so where the folder is not writable', (test) => {
    expect(codeOf(() => openRecord(readOnlyFolder(test)))).toBe('record-unusable');
  });

  it('keeps all events of one append or none when the disk is full, and goes on when there is room again', (test) => {
    const folder = smallDisk(test);
    const record = open(folder);
    record.append(1, [RECEIVED]);
    writeFileSync(join(folder, 'ballast'), Buffer.alloc(spareBytes(folder) - 64 * 1024));
    const long = { ...INTERRUPTED, why: 'x'.repeat(200_000) };
    expect(codeOf(() => record.append(1, [CONTINUED, long]))).toBe('record-full');
    expect([...record.entries()]).toHaveLength(1);
    rmSync(join(folder, 'ballast'));
    expect(record.append(1, [CONTINUED, long]).map((entry) => entry.position)).toEqual([2, 3]);
    expect([...record.entries()]).toHaveLength(3);
  });
});
