import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { turnOf } from '../../../core/study/order.ts';
import { verifyStudy } from '../../../core/study/verifyStudy.ts';
import type { Station } from '../../../main/station/station.ts';
import { houfBerman } from '../../core/study/houfBerman.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { checkBench, readyBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

const CSV = [
  'piece,operator,repeat,ohms',
  ...houfBerman.map(({ piece, operator, repeat, ohms }) => [piece, operator, repeat, ohms].join()),
].join('\n');
const IMPORTED = { csv: CSV, title: 'Thermal impedance: modules 1/10' };

describe('a study whose readings come from a file', () => {
  it('is worked out, with shares of the tolerance where there is one', async () => {
    const station = openedStation();
    const study = await station.ask('import-study', IMPORTED);
    if (study.design !== 'crossed') throw new Error('the file has operators');
    // Houf and Berman 1988 (as in Vidakovic, Example 11.14): three operators, ten parts, three repeats.
    expect([study.pieces.length, study.operators.length, study.repeats]).toEqual([10, 3, 3]);
    expect(study.components.map(({ percentOfTolerance }) => percentOfTolerance)).not.toContainEqual(expect.any(Number));
    const held = await station.ask('import-study', { ...IMPORTED, nominal: '35', tolerance: '50 %' });
    expect(held).toMatchObject({
      components: expect.arrayContaining([{ ...study.components[0], percentOfTolerance: expect.any(Number) }]),
    });
  });

  it('is written into the certificate folder, each time under a name of its own, and verifies', async () => {
    const station = openedStation();
    const asked = { ...IMPORTED, part: 'P-1', by: 'Ines Okoro' };
    const first = await station.ask('write-study', asked);
    const second = await station.ask('write-study', asked);
    expect(first.file).toMatch(/certificates.study-Thermal_impedance_modules_1_10\.csv$/);
    expect(second.file).toMatch(/certificates.study-Thermal_impedance_modules_1_10-2\.csv$/);
    expect(readFileSync(first.file, 'utf8')).toBe(first.text);
    const { record, study, sha256 } = verifyStudy(readFileSync(first.file));
    expect(record).toMatchObject({
      title: IMPORTED.title,
      by: 'Ines Okoro',
      part: 'P-1',
      version: 'test',
      choice: null,
    });
    expect(study).toEqual(await station.ask('import-study', IMPORTED));
    expect(sha256).toBe(first.sha256);
  });

  it.each([
    [{ reference: '35' }, 'study-reference-unfit'],
    [{ referenceUncertainty: '1' }, 'study-reference-unfit'],
    [{ nominal: '4k7' }, 'tolerance-missing'],
    [{ tolerance: '1 %' }, 'window-without-nominal'],
    [{ csv: 'piece,operator\n1,A' }, 'study-file-unreadable'],
  ])('is refused with %j, by %s, and nothing is written', async (more, code) => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    expect(await problemOf(station.ask('import-study', { ...IMPORTED, ...more }))).toBe(code);
    expect(await problemOf(station.ask('write-study', { ...IMPORTED, ...more, by: 'B' }))).toBe(code);
    expect(existsSync(join(folder, 'certificates'))).toBe(false);
  });

  it('of one operator is held against the value of its reference', async () => {
    const station = openedStation();
    // Mean 100.02 by hand, so a bias of 0.02 against 100.
    const csv = 'piece,session,repeat,ohms\n1,1,1,100.01\n1,1,2,100.03\n1,2,1,100.02\n1,2,2,100.02';
    const study = await station.ask('import-study', {
      csv,
      title: 't',
      reference: '100',
      referenceUncertainty: '0.01',
    });
    expect(study).toMatchObject({ design: 'single', bias: { referenceOhms: 100, biasOhms: expect.closeTo(0.02, 9) } });
  });
});

describe('a study on the simulated bench', () => {
  const choice = { design: 'crossed', pieces: 4, operators: ['A', 'B'], repeats: 2, seed: 3 } as const;

  it('has the piece of each turn on the probes', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', {
      claim: exampleLot({ study: { ...choice, operators: ['A', 'B'] } }),
    });
    await readAll(station, run);
    const inspected = (await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 4, accept: 3 }) })).run;
    await readAll(station, inspected);

    const { plan, readings } = await runOf(station, run);
    if (plan.choice.kind !== 'study') throw new Error('the plan is a study');
    const pieces = (await runOf(station, inspected)).readings.slice();
    expect(readings.size).toBe(16);
    for (const { piece: turn, ohms } of readings) {
      const { piece } = turnOf(plan.choice, turn);
      // Pieces of this reel differ by ohms; the bench's noise is some hundredths of one.
      expect(Math.abs(Number(ohms) - Number(pieces[piece - 1]?.ohms)), `turn ${turn}, piece ${piece}`).toBeLessThan(
        0.5,
      );
    }
  });

  it('is in the list as a study, decides no lot and is closed as studied', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', {
      claim: exampleLot({ study: { ...choice, operators: ['A', 'B'] } }),
    });
    const summary = async () => (await station.ask('overview', {})).runs[0];
    expect(await summary()).toMatchObject({ study: true, sampleSize: 16, outlook: 'undecided' });
    await readAll(station, run);
    await checkBench(station, run);
    expect(await problemOf(station.ask('decide-lot', { run, disposition: 'accepted', by: 'B' }))).toBe(
      'study-decides-no-lot',
    );
    await station.ask('decide-lot', { run, disposition: 'studied', by: 'B' });
    expect(await summary()).toMatchObject({ study: true, outlook: 'studied', disposition: 'studied' });
    expect((await station.ask('receive-lot', { claim: exampleLot() })).run).toBe(2);
    expect((await station.ask('overview', {})).runs[1]).toMatchObject({ study: false });
  });
});

async function readAll(station: Station, run: number): Promise<void> {
  await readyBench(station, run);
  const { plan } = await runOf(station, run);
  for (let reading = 0; reading < plan.sampleSize; reading++) await station.ask('take-reading', { run });
}
