import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import type { News } from '../../../core/contract/contract.ts';
import { openRecord } from '../../../main/record/record.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY, checkBench, readyBench, readyRealBench } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { SETTINGS, tinyMeter } from '../../tinyMeter.ts';
import { keep, longRun } from './longRun.ts';

/** A lot with one piece that fails, measured, checked, not accepted, and accepted after all. */
async function corrected(station: Station): Promise<number> {
  const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 2, accept: 0 }) });
  const meter = await tinyMeter(SETTINGS);
  await readyRealBench(station, run, meter);
  for (const ohms of ['+4.7001E+03', '+4.6001E+03']) {
    meter.ohms = ohms;
    await station.ask('take-reading', { run });
  }
  await checkBench(station, run, (check) => {
    meter.ohms = { 'open-leads': '+9.9E+37', 'shorted-leads': '+1.0E-01' }[check as string] ?? '+4.7001E+03';
    if (check === 'reference') return { waived: 'no reference resistor in this test' };
    return check === 'ambient' ? { celsius: '23' } : {};
  });
  await station.ask('decide-lot', { run, disposition: 'not-accepted', by: BY });
  return run;
}

const accepting = { disposition: 'accepted', by: BY, reason: 'used at half its rating' } as const;

describe('the story of a run', () => {
  it('is told from the record, a second person, corrections and certificates included', async () => {
    const station = openedStation();
    const run = await corrected(station);
    await station.ask('write-certificate', { run });
    expect(await problemOf(station.ask('correct-decision', { run, ...accepting }))).toBe('approval-missing');
    expect(await problemOf(station.ask('correct-decision', { run, ...accepting, approvedBy: 'ines okoro' }))).toBe(
      'approval-by-same-person',
    );
    await station.ask('correct-decision', { run, ...accepting, approvedBy: 'R. Adeyemi' });
    await station.ask('correct-fact', { run, fact: 'reel', is: 'R-7', by: BY, reason: 'forgotten' });
    await station.ask('write-certificate', { run });

    const story = await station.ask('story-of-run', { run });
    const of = (wanted: string) => story.flatMap(({ kind, words }) => (kind === wanted ? [words] : []));
    expect(of('reading-taken')).toEqual([
      'Readings 1 and 2 of pieces 1 and 2: 1 pass, 1 fail low (piece 2: 4.6000\u00a0kΩ).',
    ]);
    expect(of('decision-corrected')[0]).toMatch(
      /It is: accepted, for which R\. Adeyemi answers as well, against the plan: used at half its rating\.$/,
    );
    expect(of('facts-corrected')).toEqual(['The reel was corrected from nothing to “R-7”: forgotten.']);
    expect(of('certificate-written').map((words) => words.split(':')[0])).toEqual([
      'The certificate was written',
      'The certificate was written anew, after what was changed',
    ]);
    expect(story.at(-1)?.upTo).toBe(story.reduce((most, { upTo }) => Math.max(most, upTo), 0));
    expect(await problemOf(station.ask('story-of-run', { run: 99 }))).toBe('run-unknown');
  });

  it('is not told of a record that somebody has changed', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const run = await corrected(station);
    const forger = new Database(join(folder, 'reelohm.sqlite'));
    forger.exec(`
      DROP TRIGGER entry_is_never_changed;
      UPDATE entry SET event = replace(event, '"by":"${BY}"', '"by":"Nobody"') WHERE event LIKE '%"lot-decided"%';
    `);
    forger.close();
    expect(await problemOf(station.ask('story-of-run', { run }))).toBe('record-altered');
  });

  it('does not let a correction slip past a certificate that is being made', async () => {
    const station = openedStation();
    const run = await corrected(station);
    const written = problemOf(station.ask('write-certificate', { run }));
    await station.ask('correct-fact', { run, fact: 'reel', is: 'R-7', by: BY, reason: 'forgotten' });
    expect(await written).toBe('run-went-on');
  });
});

describe('the story of a long run', () => {
  const READINGS = 5000;

  async function withLongRun(): Promise<{ station: Station; told: News[] }> {
    const folder = temporaryFolder();
    const record = openRecord(folder);
    keep(record, 1, await longRun(READINGS));
    record.close();
    const station = openedStation(folder);
    const told: News[] = [];
    station.listen((news) => {
      if (news.kind === 'work') told.push(news);
    });
    return { station, told };
  }

  it('is told while another run is measured', async () => {
    const { station, told } = await withLongRun();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await readyBench(station, run);
    let isDone = false;
    const story = station.ask('story-of-run', { run: 1, work: 'w' }).finally(() => {
      isDone = true;
    });
    let meanwhile = 0;
    while (!isDone) {
      await station.ask('say-position', { run, position: null });
      meanwhile++;
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect(meanwhile).toBeGreaterThan(3);
    expect((await story).find(({ kind }) => kind === 'reading-taken')?.words).toMatch(
      /^Readings 1 to 5\u00a0000 of pieces 1 to 5\u00a0000: /,
    );
    expect(told.length).toBeGreaterThan(3);
    expect(told.at(-1)).toMatchObject({ progress: null, stopped: false });
  });

  it('is stopped between two stretches of it', async () => {
    const { station, told } = await withLongRun();
    const story = problemOf(station.ask('story-of-run', { run: 1, work: 'w' }));
    await station.ask('stop-work', { work: 'w' });
    expect(await story).toBe('work-stopped');
    expect(told.at(-1)).toMatchObject({ progress: null, stopped: true });
  });
});
