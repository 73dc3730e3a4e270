import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { PRACTICE_ACTS, type PracticeAct } from '../../../core/practice/practiceAct.ts';
import { readScenario } from '../../../instruments/bench/scenario.ts';
import { benchAsLeft } from '../../../main/practice/benchAsLeft.ts';
import { shippedExercises } from '../../../main/practice/shippedExercises.ts';
import { openRecord } from '../../../main/record/record.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { tinyMeter } from '../../tinyMeter.ts';
import { Played, TRAINEE } from './played.ts';

describe('an exercise at the station', () => {
  it('tells nothing of what is true before the debrief, and ends with it', async () => {
    const played = await Played.begin('string-of-ten');
    const { station, run } = played;
    const told: string[] = [];
    station.listen((news) => told.push(JSON.stringify(news)));
    expect(await problemOf(station.ask('debrief', { run }))).toBe('exercise-undecided');
    await played.through();
    await played.name('an element open', 7);
    const before = JSON.stringify([await station.ask('exercises', {}), await played.now(), told]);
    expect(before).not.toMatch(/Element 7|explained|6842\.1/);
    await played.decide('not-accepted');
    expect(JSON.stringify(await played.now())).toContain('Element 7');
    for (const asked of [station.ask('name-cause', { run, cause: 'bad contact' }), station.ask('debrief', { run })]) {
      expect(await problemOf(asked)).toBe('exercise-over');
    }
  });

  it('is never done on a real meter, counts for no series, and its certificate says that it is practice', async () => {
    const meter = await tinyMeter({});
    const played = await Played.begin('first-reel');
    const { station, run } = played;
    expect(await problemOf(station.ask('connect-meter', { run, address: meter.address }))).toBe('practice-needs-bench');
    await played.through();
    await played.name('nothing wrong');
    await played.decide('accepted');
    const { file } = await station.ask('write-certificate', { run });
    expect(verifyCertificate(readFileSync(file))).toMatchObject({ simulated: true });
    const { rows } = await station.ask('history', {});
    expect(rows[0]).toMatchObject({ simulated: true });
    const { series } = await station.ask('series', { part: 'CF-3K9', supplier: 'Example Supply' });
    expect(series.switching.behind).toEqual([]);
  });

  it('is practice on its certificate even where no meter was ever connected, and names the exercise', async () => {
    const station = openedStation(temporaryFolder());
    const { run } = await station.ask('begin-exercise', { exercise: 'first-reel', trainee: 'Ana Ruiz' });
    await station.ask('decide-lot', { run, by: 'Ana Ruiz', disposition: 'on-hold', reason: 'no time' });
    const { file } = await station.ask('write-certificate', { run });
    const text = readFileSync(file, 'utf8');
    expect(text).toContain('simulated bench: practice, not an inspection of real pieces');
    expect(text).toMatch(/bench,exercise,first-reel/);
    expect(verifyCertificate(Buffer.from(text))).toMatchObject({ simulated: true, disposition: 'on-hold' });
    expect((await station.ask('history', {})).rows[0]).toMatchObject({ simulated: true });
  });

  it('is refused where its file became another one meanwhile, and other runs are no exercises', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'exercises'));
    const file = join(folder, 'exercises', 'first-reel.json');
    const text = readFileSync(join(import.meta.dirname, '../../../instruments/exercises/first-reel.json'), 'utf8');
    writeFileSync(file, text);
    const station = openedStation(folder);
    const { run } = await station.ask('begin-exercise', { exercise: 'first-reel', trainee: 'Ana Ruiz' });
    writeFileSync(file, text.replace('3900', '3901'));
    expect(await problemOf(station.ask('connect-meter', { run, address: 'sim:' }))).toBe('exercise-changed');
    expect(await problemOf(station.ask('begin-exercise', { exercise: 'none', trainee: 'Ana Ruiz' }))).toBe(
      'exercise-unknown',
    );
    writeFileSync(join(folder, 'exercises', 'bad.json'), '{');
    const { problems, exercises } = await station.ask('exercises', {});
    expect(problems.map(({ code }) => code)).toEqual(['exercise-file-unusable']);
    expect(exercises.filter(({ own }) => own).map(({ name }) => name)).toEqual(['first-reel']);
  });

  it('stands in the record: a station that is opened again goes on with it, and its points stay', async () => {
    const played = await Played.begin('string-of-ten');
    await played.through();
    await played.name('an element open', 3);
    const marks = await played.decide('not-accepted');
    const { recordFile } = await played.station.ask('overview', {});
    await played.station.close();
    const record = openRecord(join(recordFile, '..'));
    const [result] = record.rows.practised();
    record.close();
    expect(result).toMatchObject({
      exercise: 'string-of-ten',
      trainee: 'Noor Haddad',
      named: 'an element open',
      which: 3,
    });
    expect(result?.marks?.find(({ mark }) => mark === 'cause named')).toEqual({
      mark: 'cause named',
      points: 10,
      of: 20,
    });
    expect(marks['cause named']).toBe(0.5);
  });
});

describe('an exercise that is gone on with after a break', () => {
  it('finds its bench as it was left: what was lifted stays lifted', async () => {
    const played = await Played.begin('eight-boards');
    const { station, run } = played;
    await played.checks();
    await played.read(1);
    await played.voidLast('still in its circuit');
    await played.act('lift one end');
    await station.ask('release-meter', {});
    await station.ask('connect-meter', { run, address: 'sim:' });
    await station.ask('confirm-bench', { run, by: TRAINEE, cautions: ['it is simulated'] });
    await played.through();
    await played.name('part still in circuit');
    expect(await played.decide('accepted')).toMatchObject({ 'pieces judged right': 1, 'lot decided right': 1 });
  });

  it('has what changed by itself, and what was done about it', () => {
    const truth = shippedExercises().find(({ open }) => open.name === 'low-values')?.truth;
    const actsAfter = (reading: number, ...acts: PracticeAct[]) => acts.map((act) => ({ act, afterReading: reading }));
    const left = (pieces: number, acts = actsAfter(0)) => benchAsLeft(truth?.scenario, pieces, acts);
    expect(left(3)).toMatchObject({ leadOhms: 0.08, later: [{ afterPieces: 3, leadOhms: 1.4 }] });
    expect(left(9)).toMatchObject({ leadOhms: 1.4, later: [] });
    expect(left(9, actsAfter(8, 'change the leads'))).toMatchObject({ leadOhms: 0.08, later: [] });
    // Whoever changes leads before they are taken away has those that come after.
    expect(left(9, actsAfter(2, 'change the leads'))).toMatchObject({ leadOhms: 1.4 });
    const drifting = shippedExercises().find(({ open }) => open.name === 'twenty-pieces')?.truth;
    expect(benchAsLeft(drifting?.scenario, 9, []).meter).toMatchObject({ gainErrorPpm: 540, driftPpmPerReading: 60 });
    for (const { truth } of shippedExercises()) {
      const healthy = readScenario(benchAsLeft(truth.scenario, 1000, actsAfter(1000, ...PRACTICE_ACTS)));
      expect(healthy).toMatchObject({ circuit: null, fingersOhms: null, fixtureVolts: 0, leads: { state: 'good' } });
      expect(healthy.meter).toMatchObject({ gainErrorPpm: 0, driftPpmPerReading: 0 });
      expect(healthy.lot).toEqual(readScenario(truth.scenario).lot);
    }
  });
});
