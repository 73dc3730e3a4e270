import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../core/contract/contract.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { checkFile } from '../../../main/record/checkFile.ts';
import { entryHash } from '../../../main/record/hashChain.ts';
import { openRecord } from '../../../main/record/record.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { measuredRecord } from './measuredRecord.ts';

const quietly = () => undefined;
/** A record that is whole: made once, since every attack is on a copy. */
let whole: { bytes: Buffer; entries: Entry[] } | null = null;

async function wholeRecord(): Promise<{ bytes: Buffer; entries: Entry[] }> {
  if (whole === null) {
    const { file, entries } = await measuredRecord();
    whole = { bytes: readFileSync(file), entries };
  }
  return whole;
}

/** What the check says of the record after somebody who knows the file well had it; `intact` where it finds nothing. */
function afterAttack(bytes: Buffer, attack: (database: Database.Database) => void): string {
  const file = join(temporaryFolder(), 'reelohm.sqlite');
  writeFileSync(file, bytes);
  const database = new Database(file);
  database.exec('DROP TRIGGER entry_is_never_changed; DROP TRIGGER entry_is_never_deleted');
  attack(database);
  database.close();
  return findingOf(file);
}

function findingOf(file: string): string {
  try {
    checkFile({ file }, quietly);
    return 'intact';
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown.code;
    throw thrown;
  }
}

const SHOWN = expect.stringMatching(/^record-(altered|cut|damaged)$/);

interface Row {
  position: number;
  run: number;
  event: string;
  previous: Buffer;
  hash: Buffer;
}

const rowOf = (database: Database.Database, position: number) =>
  database.prepare('SELECT * FROM entry WHERE position = ?').get(position) as Row;
const put = (database: Database.Database, row: Row) =>
  database
    .prepare(
      'INSERT OR REPLACE INTO entry (position, run, event, previous, hash) VALUES (@position, @run, @event, @previous, @hash)',
    )
    .run(row);

/** A row whose own hash is right again after it was changed. */
function rehashed(row: Row): Row {
  const hash = entryHash(row.previous.toString('hex'), row.position, row.run, row.event);
  return { ...row, hash: Buffer.from(hash, 'hex') };
}

describe('the whole check of a record', () => {
  it('finds nothing wrong with a record as it was written, and says what is in it', async () => {
    const { bytes, entries } = await wholeRecord();
    expect(afterAttack(bytes, () => undefined)).toBe('intact');
    const file = join(temporaryFolder(), 'reelohm.sqlite');
    writeFileSync(file, bytes);
    expect(checkFile({ file }, quietly)).toEqual({ entries: entries.length, runs: 3, hash: entries.at(-1)?.hash });
  });

  it('finds any single changed row, its own hash made anew or not', async () => {
    const { bytes, entries } = await wholeRecord();
    const place = fc.integer({ min: 1, max: entries.length });
    const what = fc.constantFrom('event', 'run', 'previous', 'hash', 'position');
    fc.assert(
      fc.property(place, what, fc.boolean(), fc.nat(), (position, column, isRehashed, salt) => {
        const found = afterAttack(bytes, (database) => {
          const row = rowOf(database, position);
          const changed = changedRow(row, column, salt);
          if (column === 'position') database.prepare('DELETE FROM entry WHERE position = ?').run(position);
          put(database, isRehashed && column !== 'hash' ? rehashed(changed) : changed);
        });
        expect(found, `${column} of entry ${position}`).toEqual(SHOWN);
      }),
      { numRuns: 60 },
    );
  });

  it('finds any single removed row, the last among them', async () => {
    const { bytes, entries } = await wholeRecord();
    for (let position = 1; position <= entries.length; position++) {
      const found = afterAttack(bytes, (database) =>
        database.prepare('DELETE FROM entry WHERE position = ?').run(position),
      );
      expect(found, `entry ${position}`).toEqual(SHOWN);
    }
  });

  it('finds any single added row, also one at the end that fits the chain', async () => {
    const { bytes, entries } = await wholeRecord();
    const last = entries.length;
    for (const position of [-3, 0, last + 1, last + 2]) {
      for (const of of [1, last]) {
        const found = afterAttack(bytes, (database) => {
          const previous = rowOf(database, last).hash;
          put(database, rehashed({ ...rowOf(database, of), position, previous }));
        });
        expect(found, `entry ${of} again as ${position}`).toEqual(SHOWN);
      }
    }
  });

  it('finds any two rows swapped', async () => {
    const { bytes, entries } = await wholeRecord();
    const place = fc.integer({ min: 1, max: entries.length });
    fc.assert(
      fc.property(place, place, fc.boolean(), (one, other, isRehashed) => {
        fc.pre(one !== other);
        const found = afterAttack(bytes, (database) => {
          const [a, b] = [rowOf(database, one), rowOf(database, other)];
          const swapped = [
            { ...b, position: one },
            { ...a, position: other },
          ];
          for (const row of swapped) put(database, isRehashed ? rehashed(row) : row);
        });
        expect(found, `${one} and ${other}`).toEqual(SHOWN);
      }),
      { numRuns: 60 },
    );
  });

  it('finds that the entries of a run would be looked for in a wrong place', async () => {
    const { bytes } = await wholeRecord();
    const statements = [
      'DELETE FROM stretch WHERE run = 2',
      'UPDATE stretch SET run = 3 WHERE run = 2',
      'INSERT INTO stretch (first, run) VALUES (5, 2)',
    ];
    for (const sql of statements)
      expect(
        afterAttack(bytes, (database) => database.exec(sql)),
        sql,
      ).toEqual(SHOWN);
  });

  it('finds any cell changed in the tables of runs', async () => {
    const { bytes } = await wholeRecord();
    const found = (sql: string, ...values: unknown[]) =>
      afterAttack(bytes, (database) => expect(database.prepare(sql).run(...values).changes).toBe(1));
    const file = join(temporaryFolder(), 'reelohm.sqlite');
    writeFileSync(file, bytes);
    const database = new Database(file, { readonly: true });
    const cells = ['run', 'withdrawn'].flatMap((table) => {
      const columns = database.pragma(`table_info(${table})`) as { name: string; type: string; notnull: number }[];
      return columns.map((column) => ({ table, ...column }));
    });
    expect(cells.length).toBeGreaterThan(45);
    for (const { table, name, type, notnull } of cells) {
      if (name === 'how') continue;
      const other = type === 'TEXT' ? 'another' : 12_345;
      expect(found(`UPDATE ${table} SET ${name} = ? WHERE run = 1`, other), `${table}.${name}`).toBe(
        'record-rows-altered',
      );
      if (notnull === 1 || name === 'run') continue;
      const isThere = found(`UPDATE ${table} SET ${name} = NULL WHERE run = 1`);
      const was = database.prepare(`SELECT ${name} FROM ${table} WHERE run = 1`).pluck().get();
      expect(isThere, `${table}.${name} taken away`).toBe(was === null ? 'intact' : 'record-rows-altered');
    }
    database.close();
  });

  it('finds what was added to the tables of runs, or taken from the readings that do not count', async () => {
    const { bytes } = await wholeRecord();
    const statements = [
      "INSERT INTO withdrawn (run, reading, how, why, at) VALUES (1, 3, 'suspect', 'w', 'a')",
      "INSERT INTO withdrawn (run, reading, how, why, at) VALUES (9, 3, 'void', 'w', 'a')",
      "UPDATE withdrawn SET how = 'suspect'",
      'DELETE FROM withdrawn',
      'UPDATE run SET run = 9 WHERE run = 2',
      'UPDATE run SET up_to = up_to + 1 WHERE run = 2',
      'UPDATE run SET up_to = up_to - 1 WHERE run = 2',
      'UPDATE run SET up_to = 1',
    ];
    for (const sql of statements) {
      expect(
        afterAttack(bytes, (database) => database.exec(sql)),
        sql,
      ).toBe('record-rows-altered');
    }
  });

  it('holds nothing against a row that is not made yet', async () => {
    const { bytes } = await wholeRecord();
    expect(afterAttack(bytes, (database) => database.exec('DELETE FROM run WHERE run = 3'))).toBe('intact');
    expect(afterAttack(bytes, (database) => database.exec('DELETE FROM run; DELETE FROM withdrawn'))).toBe('intact');
  });

  it('finds a file whose bytes were damaged', async () => {
    const { bytes } = await wholeRecord();
    const file = join(temporaryFolder(), 'reelohm.sqlite');
    // All of a page but the first, which says that it is a database.
    const page = bytes.readUInt16BE(16);
    const damaged = Buffer.from(bytes);
    damaged.fill(0xa5, page, 2 * page);
    writeFileSync(file, damaged);
    expect(findingOf(file)).toEqual(SHOWN);
    writeFileSync(file, bytes.subarray(0, bytes.length - page));
    expect(findingOf(file)).toEqual(SHOWN);
  });

  it('is no check of something else', () => {
    const file = join(temporaryFolder(), 'other.sqlite');
    new Database(file).exec('CREATE TABLE t (a)').close();
    expect(findingOf(file)).toBe('record-unusable');
    // Nobody looked at it, so nothing is said of what is in it.
    expect(findingOf(join(temporaryFolder(), 'none.sqlite'))).toBe('file-unreadable');
    expect(findingOf(join(temporaryFolder(), 'nowhere', 'none.sqlite'))).toBe('file-unreadable');
  });
});

describe('a station', () => {
  it('checks its record on demand while it is open, and finds what was altered under it', async () => {
    const { folder, file, entries } = await measuredRecord();
    const station = openedStation(folder);
    expect(await station.ask('check-record', {})).toMatchObject({
      entries: entries.length,
      hash: entries.at(-1)?.hash,
    });
    const forger = new Database(file);
    forger.exec('DROP TRIGGER entry_is_never_changed');
    forger.exec("UPDATE entry SET event = replace(event, 'L-2093', 'L-2094') WHERE position = 1");
    forger.close();
    expect(await problemOf(station.ask('check-record', {}))).toBe('record-altered');
    // Nor is the altered run opened, where it is not kept as it was.
    await station.close();
    const record = openRecord(folder);
    expect(() => [...record.entries(1)]).toThrowError(expect.objectContaining({ code: 'record-altered' }));
    record.close();
  });
});

function changedRow(row: Row, column: string, salt: number): Row {
  switch (column) {
    case 'event':
      return { ...row, event: JSON.stringify({ ...JSON.parse(row.event), at: `2026-01-01T00:00:00.${salt % 1000}Z` }) };
    case 'run':
      return { ...row, run: row.run + 1 + (salt % 5) };
    case 'position':
      return { ...row, position: 1000 + (salt % 1000) };
    case 'previous':
      return { ...row, previous: flipped(row.previous, salt) };
    default:
      return { ...row, hash: flipped(row.hash, salt) };
  }
}

function flipped(bytes: Buffer, salt: number): Buffer {
  const other = Buffer.from(bytes);
  other[salt % 32] = (other[salt % 32] as number) ^ (1 << (salt % 8));
  return other;
}
