import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { dataFolders } from '../../main/station/dataFolder.ts';
import { openStation } from '../../main/station/station.ts';
import { Played } from '../main/practice/played.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const SHIPPED = join(import.meta.dirname, '../../instruments/exercises');

it('lists, checks and seals exercises, and collects the results of a class from two machines', async () => {
  const folder = temporaryFolder();
  const data = ['--data', folder];
  const list = await reelohm(['practice', 'list', '--json', ...data]);
  expect(list.status).toBe(0);
  expect(list.out.trim().split('\n').length).toBeGreaterThanOrEqual(15);
  expect(list.out).not.toMatch(/spreadPercent|explained|"causes"/);

  const schema = JSON.parse((await reelohm(['practice', 'schema'])).out);
  expect(Object.keys(schema.properties)).toEqual(expect.arrayContaining(['title', 'lot', 'truth']));
  expect(Object.keys(schema.properties.truth.properties.scenario.properties)).toContain('fixtureVolts');

  // An exercise of the instructor's own, with a bench that takes no time, handed out sealed.
  const exercise = JSON.parse(readFileSync(join(SHIPPED, 'string-of-ten.json'), 'utf8'));
  exercise.name = 'our-string';
  exercise.points = { time: 0, 'cause named': 25 };
  exercise.truth.scenario.meter = { pace: 'none' };
  const plain = join(folder, 'plain.json');
  writeFileSync(plain, JSON.stringify(exercise));
  mkdirSync(join(folder, 'exercises'));
  const handedOut = join(folder, 'exercises', 'our-string.json');
  const sealed = await reelohm(['practice', 'seal', plain, '--out', handedOut]);
  expect(sealed.status).toBe(0);
  const text = readFileSync(handedOut, 'utf8');
  expect(text).not.toMatch(/scenario|an element open|Element 7/);
  expect(sealed.out).toContain(JSON.parse(text).digest);
  expect((await reelohm(['practice', 'check', handedOut])).status).toBe(0);
  // What was sealed and then changed, and what is no exercise, is told with file and field.
  writeFileSync(join(folder, 'changed.json'), text.replace(/"digest": "./, '"digest": "0'));
  const changed = await reelohm(['practice', 'check', join(folder, 'changed.json')]);
  if (JSON.parse(text).digest[0] !== '0') expect(changed.err).toContain('is not what was sealed');
  writeFileSync(join(folder, 'wrong.json'), JSON.stringify({ ...exercise, level: 9 }));
  const wrong = await reelohm(['practice', 'check', join(folder, 'wrong.json')]);
  expect(wrong.status).toBe(2);
  expect(wrong.err).toMatch(/wrong\.json cannot be used, level:/);

  // Two trainees at one machine.
  const station = openStation({ folders: dataFolders(folder), version: 'test' });
  for (const [trainee, which] of [
    ['Noor Haddad', 7],
    ['=Ana Ruiz', 2],
  ] as const) {
    const played = await Played.begin('our-string', trainee, { station });
    await played.through();
    await played.name('an element open', which);
    await played.decide('not-accepted');
  }
  await station.close();

  const csv = join(folder, 'class.csv');
  expect((await reelohm(['practice', 'results', '--csv', csv, ...data])).out).toContain('2 results');
  const rows = parse(readFileSync(csv), { columns: true }) as Record<string, string>[];
  expect(
    rows.map(({ trainee, exercise, points, points_of, which }) => [trainee, exercise, points, points_of, which]),
  ).toEqual([
    ['Noor Haddad', 'our-string', '100', '100', '7'],
    // Half of what the cause is worth; a spreadsheet takes no name for a formula.
    ["'=Ana Ruiz", 'our-string', '88', '100', '2'],
  ]);
  const both = join(folder, 'both.csv');
  const other = temporaryFolder();
  expect((await reelohm(['practice', 'results', csv, '--csv', both, '--data', other])).out).toContain('2 results');
  expect(readFileSync(both, 'utf8')).toBe(readFileSync(csv, 'utf8'));
  const notOurs = await reelohm(['practice', 'results', plain, '--csv', join(folder, 'c.csv'), '--data', other]);
  expect(notOurs.status).toBe(2);
  expect(existsSync(join(folder, 'c.csv'))).toBe(false);
}, 120_000);
