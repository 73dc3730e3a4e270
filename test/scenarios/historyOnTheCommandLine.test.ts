import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { exampleLot } from '../exampleLot.ts';
import { openedStation } from '../openedStation.ts';
import { BY } from '../readyBench.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

it('the history is found, printed and written by the words the screen has', async () => {
  const data = temporaryFolder();
  const station = openedStation(data);
  for (const [part, lot] of [
    ['TF-4K7-1', 'L-1'],
    ['TF-10K-1', 'L-2'],
    ['TF-10K-1', 'L-\u202e3'],
  ] as const) {
    const claim = exampleLot();
    const facts = { ...claim, part: { ...claim.part, number: part }, lot: { ...claim.lot, number: lot } };
    await station.ask('receive-lot', { claim: facts });
  }
  await station.ask('decide-lot', { run: 2, disposition: 'on-hold', by: BY, reason: 'wet' });
  await station.close();
  const history = (...args: string[]) => reelohm(['history', '--data', data, ...args]);

  const all = await history();
  expect([all.status, all.out.trim().split('\n').length]).toEqual([0, 3]);
  // What steers a terminal is not printed.
  expect(all.out).not.toContain('\u202e');
  const held = await history('--text', 'tf-10k', '--disposition', 'on-hold', '--json');
  expect(held.status).toBe(0);
  expect(JSON.parse(held.out)).toMatchObject({ type: 'run', run: 2, lot: 'L-2', disposition: 'on-hold' });
  const none = await history('--part', 'none', '--practice', 'only');
  expect([none.status, none.out, none.err]).toEqual([0, '', '0 runs found\n']);

  const file = join(temporaryFolder(), 'h.csv');
  const written = await history('--part', 'TF-10K-1', '--order', 'earliest-first', '--csv', file);
  expect([written.status, written.out]).toEqual([0, `${file}: 2 runs\n`]);
  const rows = parse(readFileSync(file), { columns: true }) as Record<string, string>[];
  expect(rows.map(({ run, disposition }) => [run, disposition])).toEqual([
    ['2', 'on-hold'],
    ['3', ''],
  ]);
  for (const wrong of [
    ['--csv', file],
    ['--from', 'yesterday'],
    ['--colour', 'red'],
    ['--csv', `${file}2`, '--json'],
  ]) {
    const refused = await history(...wrong);
    expect([refused.status, refused.out], wrong.join(' ')).toEqual([2, '']);
    expect(refused.err).not.toBe('');
  }
});
