import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { verifyStress } from '../../../core/drift/verifyStress.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readyBench, readyRealBench, runOf } from '../../readyBench.ts';
import { SETTINGS, tinyMeter } from '../../tinyMeter.ts';

const RULE = { treatment: 'heat 155 °C/16 h', limit: '0.25 % + 0.05 ohm' };

/** A run at a real meter that shows these, one piece after the other; the zero of 0.1 Ω is subtracted. */
async function measured(
  station: Station,
  shown: readonly string[],
  claim = exampleLot(),
  celsius = '23',
): Promise<number> {
  const meter = await tinyMeter(SETTINGS);
  meter.ohms = '+4.7001E+03';
  const { run } = await station.ask('receive-lot', { claim });
  await readyRealBench(station, run, meter, celsius);
  for (const value of shown) {
    meter.ohms = value;
    await station.ask('take-reading', { run });
  }
  return run;
}

describe('pieces before and after a treatment', () => {
  it('are compared from two runs, piece by piece, each with its own first value', async () => {
    const station = openedStation();
    const before = await measured(station, ['+4.7001E+03', '+4.7001E+03', '+4.7001E+03', '+9.9E+37']);
    const after = await measured(station, ['+4.7119E+03', '+4.7120E+03', '+9.9E+37', '+4.7001E+03']);
    const result = await station.ask('compare-stress', { before: { run: before }, after: { run: after }, ...RULE });
    // By hand: 0.25 % of 4700 Ω + 0.05 Ω = 11.8 Ω. Piece 1 moved by just that, which is allowed; piece 2 by 0.1 Ω more.
    expect(result.pieces).toMatchObject([
      { piece: '1', changeOhms: '11.8', limitOhms: '11.8', within: true },
      { piece: '2', changeOhms: '11.9', limitOhms: '11.8', within: false },
      { piece: '3', changeOhms: null, within: false },
    ]);
    expect(result).toMatchObject({ openBefore: ['4'], beyond: 2, holds: false, practice: false });
    expect(result.beforeSource).toContain(`run ${before}, lot L-2093`);
  });

  it('take the reading that counts: not one that is void', async () => {
    const station = openedStation();
    const before = await measured(station, ['+4.7001E+03', '+4.7400E+03']);
    await station.ask('void-reading', { run: before, reading: 2, by: 'Ines Okoro', reason: 'slipped' });
    const after = { name: 'after.csv', csv: 'piece,ohms\n1,4700\n2,4700\n' };
    const result = await station.ask('compare-stress', { before: { run: before }, after, ...RULE });
    expect(result).toMatchObject({ pieces: [{ piece: '1', changeOhms: '0.0' }], extra: ['2'], holds: true });
  });

  it('are written into the certificate folder with where the values are from, and verify', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await readyBench(station, run);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });
    const { readings } = await runOf(station, run);
    const csv = ['piece,ohms', ...readings.slice().map(({ piece, ohms }) => `${piece},${ohms}`)].join('\n');
    const asked = { before: { run }, after: { name: 'after.csv', csv }, ...RULE, by: 'Ines Okoro' };
    const { by: _, ...compared } = asked;
    expect(await station.ask('compare-stress', compared)).toMatchObject({ practice: true, afterSource: 'after.csv' });
    const written = await station.ask('write-stress', asked);
    const again = await station.ask('write-stress', asked);
    expect(written.file).toMatch(/certificates.stress-heat_155_C_16_h\.csv$/);
    expect(again.file).toMatch(/stress-heat_155_C_16_h-2\.csv$/);
    const { record, result, sha256 } = verifyStress(readFileSync(written.file));
    expect(record).toMatchObject({
      by: 'Ines Okoro',
      version: 'test',
      beforeSource: `run ${run}, lot L-2093, part TF-4K7-1, at 23.00 °C (simulated bench: practice)`,
      afterSource: 'after.csv',
    });
    expect(result).toMatchObject({ beyond: 0, holds: true });
    expect([sha256, readFileSync(written.file, 'utf8')]).toEqual([written.sha256, written.text]);
  });

  it('are not compared where the part or the temperature is another, which could be taken for the treatment', async () => {
    const station = openedStation();
    const shown = ['+4.7001E+03'];
    const before = await measured(station, shown);
    const ask = (after: number) =>
      problemOf(station.ask('compare-stress', { before: { run: before }, after: { run: after }, ...RULE }));
    const { part } = exampleLot();
    expect(await ask(await measured(station, shown, { ...exampleLot(), part: { ...part, number: 'OTHER' } }))).toBe(
      'stress-run-unfit',
    );
    expect(await ask(await measured(station, shown, exampleLot(), '26'))).toBe('stress-run-unfit');
    const warm = await measured(station, shown, exampleLot(), '25');
    const result = await station.ask('compare-stress', { before: { run: before }, after: { run: warm }, ...RULE });
    expect(result.holds).toBe(true);
  });

  it('are not taken from a study, from a run without readings, or from practice and real readings together', async () => {
    const station = openedStation();
    const real = await measured(station, ['+4.7001E+03']);
    const practice = (await station.ask('receive-lot', { claim: exampleLot() })).run;
    const ask = (before: number, after: number) =>
      problemOf(station.ask('compare-stress', { before: { run: before }, after: { run: after }, ...RULE }));
    expect(await ask(real, practice)).toBe('stress-run-unfit');
    await readyBench(station, practice);
    await station.ask('take-reading', { run: practice });
    expect(await ask(real, practice)).toBe('stress-run-unfit');
    expect(await ask(practice, practice)).toBe('no problem');
    const { run: study } = await station.ask('receive-lot', {
      claim: exampleLot({ study: { design: 'crossed', pieces: 2, operators: ['A', 'B'], repeats: 2, seed: 1 } }),
    });
    expect(await ask(study, real)).toBe('stress-run-unfit');
    expect(await ask(real, 99)).toBe('run-unknown');
  });
});
