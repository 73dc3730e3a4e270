import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation } from '../../openedStation.ts';
import { BY, readyBench, runOf } from '../../readyBench.ts';
import { skipSaying } from '../../skipSaying.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { measuredRecord } from './measuredRecord.ts';

/** Rows of a query by the program that SQLite comes with; as a spreadsheet or another program would read the file. */
function rowsOf<T>(file: string, sql: string): T[] {
  const said = textOf(file, sql);
  return said === '' ? [] : (JSON.parse(said) as T[]);
}

function textOf(file: string, sql: string): string {
  const { stdout, stderr, status } = spawnSync('sqlite3', ['-readonly', '-json', file, sql], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return stdout;
}

it('others read lots, readings and dispositions while a run is measured', async (test) => {
  if (spawnSync('sqlite3', ['-version']).error) skipSaying(test, 'the program sqlite3 is not installed');
  const folder = temporaryFolder();
  const file = join(folder, 'reelohm.sqlite');
  const station = openedStation(folder);
  const { run } = await station.ask('receive-lot', { claim: exampleLot() });
  await readyBench(station, run);
  for (let taken = 1; taken <= 5; taken++) {
    await station.ask('take-reading', { run });
    const found = rowsOf<{ reading: number; verdict: string }>(file, `SELECT * FROM readings WHERE run = ${run}`);
    expect(found.map(({ reading }) => reading)).toEqual(Array.from({ length: taken }, (_, index) => index + 1));
  }
  await station.ask('void-reading', { run, reading: 2, by: BY, reason: 'slipped' });
  await station.ask('decide-lot', { run, disposition: 'on-hold', by: BY, reason: 'the label is missing' });
  const { readings } = await runOf(station, run);
  expect(rowsOf(file, 'SELECT reading, piece, exact_ohms, verdict, withdrawn, withdrawn_why FROM readings')).toEqual(
    [...readings].map(({ reading, piece, ohms, verdict, voided }) => ({
      reading,
      piece,
      exact_ohms: ohms,
      verdict,
      withdrawn: voided ? 'void' : null,
      withdrawn_why: voided?.reason ?? null,
    })),
  );
  expect(rowsOf(file, 'SELECT run, lot, counted, voided, disposition, practice FROM lots')).toEqual([
    { run, lot: 'L-2093', counted: 4, voided: 1, disposition: 'on-hold', practice: 1 },
  ]);
  expect(rowsOf(file, 'SELECT run, what, by, disposition, reason FROM dispositions')).toEqual([
    { run, what: 'lot-decided', by: BY, disposition: 'on-hold', reason: 'the label is missing' },
  ]);
  // And the station goes on.
  await station.ask('lift-hold', { run, by: BY, reason: 'found' });
});

it('finds the readings of one run, and what stands beside readings, without going over all entries', async (test) => {
  if (spawnSync('sqlite3', ['-version']).error) skipSaying(test, 'the program sqlite3 is not installed');
  const { file } = await measuredRecord();
  const plan = (sql: string) => textOf(file, `EXPLAIN QUERY PLAN ${sql}`);
  expect(rowsOf(file, 'SELECT reading FROM readings WHERE run = 1')).toHaveLength(9);
  expect(plan('SELECT * FROM readings WHERE run = 1')).toMatch(
    /SEARCH e USING INTEGER PRIMARY KEY \(rowid>\? AND rowid<\?\)/,
  );
  expect(plan('SELECT * FROM dispositions')).toContain('entry_beside_readings');
});
