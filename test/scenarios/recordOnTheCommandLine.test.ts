import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { exampleLot } from '../exampleLot.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const said = (out: string) => JSON.parse(out) as Record<string, unknown>;

it('a record is checked, backed up, restored, exported and imported by command', async () => {
  const folder = temporaryFolder();
  const [data, lot] = [join(folder, 'data'), join(folder, 'lot.json')];
  writeFileSync(lot, JSON.stringify(exampleLot()));
  const inspected = await reelohm(['inspect', lot, '--meter', 'sim:7', '--data', data, '--confirm-cautions']);
  expect(inspected.status).toBe(0);

  const checked = await reelohm(['record', 'check', '--data', data, '--json']);
  expect(checked.status).toBe(0);
  const { entries, hash } = said(checked.out) as { entries: number; hash: string };
  expect(entries).toBeGreaterThan(25);
  expect((await reelohm(['record', 'check', '--data', data])).out).toContain(`${entries} entries of 1 runs`);

  const copy = join(folder, 'copies', 'copy.sqlite');
  expect(said((await reelohm(['record', 'backup', copy, '--data', data, '--json'])).out)).toMatchObject({
    entries,
    hash,
  });
  const twice = await reelohm(['record', 'backup', copy, '--data', data]);
  expect([twice.status, twice.err]).toEqual([2, expect.stringContaining('[file-exists]')]);

  const out = join(folder, 'export');
  expect((await reelohm(['record', 'export', out, '--data', data])).status).toBe(0);
  const other = join(folder, 'other');
  const imported = await reelohm(['record', 'import', join(out, 'entries.jsonl'), '--data', other, '--json']);
  expect(said(imported.out)).toMatchObject({ entries, hash });
  const rebuilt = await reelohm(['record', 'rebuild', '--data', other, '--json']);
  expect(said(rebuilt.out)).toMatchObject({ runs: 1 });

  const there = await reelohm(['record', 'restore', copy, '--data', data]);
  expect([there.status, there.err]).toEqual([2, expect.stringContaining('[record-exists]')]);
  const restored = await reelohm(['record', 'restore', copy, '--replace', '--data', data, '--json']);
  expect(said(restored.out)).toMatchObject({ entries, hash });
  expect(existsSync(String(said(restored.out).kept))).toBe(true);
  expect(readdirSync(data).filter((name) => name.endsWith('.part'))).toEqual([]);

  const forger = new Database(copy);
  forger.exec('DROP TRIGGER entry_is_never_changed');
  forger.exec("UPDATE entry SET event = replace(event, 'L-2093', 'L-2094') WHERE position = 1");
  forger.close();
  const altered = await reelohm(['record', 'check', copy]);
  expect([altered.status, altered.err]).toEqual([1, expect.stringContaining('[record-altered]')]);
  const before = readFileSync(join(other, 'reelohm.sqlite'));
  const refused = await reelohm(['record', 'restore', copy, '--replace', '--data', other]);
  expect([refused.status, refused.err]).toEqual([2, expect.stringContaining('[record-altered]')]);
  expect(readFileSync(join(other, 'reelohm.sqlite'))).toEqual(before);
});
