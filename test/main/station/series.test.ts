import { describe, expect, it } from 'vitest';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { outlook } from '../../../core/inspection/outlook.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY, checkBench, checkRealBench, readyBench, readyRealBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { SETTINGS, type TinyMeter, tinyMeter } from '../../tinyMeter.ts';

// MIL-STD-105E, Table II-A, lot 5000, level S-1 (letter C), AQL 10: 5 pieces, Ac 1; Table II-B the same letter: 8 pieces, Ac 1.
const lot = (number: string, plan: object = {}): LotClaimInput => {
  const claim = exampleLot({ aql: '10', level: 'S-1', ...plan });
  return { ...claim, lot: { ...claim.lot, number }, stopping: 'when-refused' };
};

const OVERRIDE = { override: { by: 'Q. Lead', reason: 'the cause is mended' } };

/** Inspects a lot with a real meter until its plan decides; the first pieces read below the window. */
async function inspected(
  station: Station,
  meter: TinyMeter,
  claim: LotClaimInput,
  bad: number,
  disposition?: 'on-hold',
): Promise<number> {
  const { run } = await station.ask('receive-lot', { claim });
  meter.ohms = '+4.7001E+03';
  await readyRealBench(station, run, meter);
  for (let piece = 0; outlook(await runOf(station, run)) === 'undecided'; piece++) {
    meter.ohms = piece < bad ? '+4.6001E+03' : '+4.7001E+03';
    await station.ask('take-reading', { run });
  }
  meter.ohms = '+4.7001E+03';
  await checkRealBench(station, run, meter);
  const says = outlook(await runOf(station, run)) === 'accept' ? 'accepted' : 'not-accepted';
  await station.ask('decide-lot', { run, disposition: disposition ?? says, by: BY, reason: 'r' });
  return run;
}

const seriesNow = async (station: Station, more: object = {}) =>
  (await station.ask('series', { part: 'TF-4K7-1', supplier: 'Example Supply', ...more })).series;

describe('the lots of a part and supplier', () => {
  it('become tightened after two of five that are not accepted, and the next lot is received so, with its reasons', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const meter = await tinyMeter(SETTINGS);
    expect((await seriesNow(station)).switching).toMatchObject({ severity: 'normal', behind: [] });
    const first = await inspected(station, meter, lot('L-1'), 2);
    await inspected(station, meter, lot('L-2'), 0);
    const third = await inspected(station, meter, lot('L-3'), 2);
    expect((await seriesNow(station)).switching).toMatchObject({ severity: 'tightened', behind: [first, third] });

    const { run } = await station.ask('receive-lot', { claim: lot('L-4') });
    const { plan, switching } = await runOf(station, run);
    expect(plan).toMatchObject({ choice: { severity: 'tightened' }, sampleSize: 8, accept: 1 });
    expect(switching).toMatchObject({ severity: 'tightened', behind: [first, third], override: null });
    expect(switching?.why).toContain('4.7.1');

    // Of another supplier nothing is known, and the record says the same after a restart.
    const other = await station.ask('series', { part: 'TF-4K7-1', supplier: 'another' });
    expect(other.series.switching.severity).toBe('normal');
    await station.close();
    expect((await seriesNow(openedStation(folder))).switching).toMatchObject({ severity: 'tightened' });
  });

  it('take another severity only where somebody answers for it, and count anew from there', async () => {
    const station = openedStation();
    const meter = await tinyMeter(SETTINGS);
    expect(await problemOf(station.ask('receive-lot', { claim: lot('L-1', { severity: 'reduced' }) }))).toBe(
      'severity-not-by-rule',
    );
    const run = await inspected(station, meter, lot('L-1', { severity: 'tightened', ...OVERRIDE }), 0);
    expect((await runOf(station, run)).switching?.override).toEqual(OVERRIDE.override);
    const { switching } = await seriesNow(station);
    expect(switching).toMatchObject({ severity: 'tightened', behind: [run] });
    expect(switching.why).toContain('Q. Lead');
  });

  it('are discontinued after five that are not accepted on tightened inspection, until somebody answers for going on', async () => {
    const station = openedStation();
    const meter = await tinyMeter(SETTINGS);
    await inspected(station, meter, lot('L-0', { severity: 'tightened', ...OVERRIDE }), 2);
    for (const number of ['L-1', 'L-2', 'L-3', 'L-4']) await inspected(station, meter, lot(number), 2);
    expect((await seriesNow(station)).switching.severity).toBe('discontinued');
    expect(await problemOf(station.ask('receive-lot', { claim: lot('L-5') }))).toBe('inspection-discontinued');
    const { run } = await station.ask('receive-lot', { claim: lot('L-5', OVERRIDE) });
    expect((await runOf(station, run)).plan.choice).toMatchObject({ severity: 'tightened' });
  });

  it('that are offered again are marked and do not count; a lot on hold does not count either', async () => {
    const station = openedStation();
    const meter = await tinyMeter(SETTINGS);
    const first = await inspected(station, meter, lot('L-1'), 2);
    expect((await seriesNow(station, { lot: 'L-1' })).offeredAgainAfter).toBe(first);
    const again = await inspected(station, meter, lot('L-1'), 2);
    expect((await runOf(station, again)).lot.offeredAgainAfter).toBe(first);
    // Another reel of that lot is offered for the first time.
    expect((await seriesNow(station, { lot: 'L-1', reel: 'R-2' })).offeredAgainAfter).toBeNull();
    await inspected(station, meter, lot('L-2'), 2, 'on-hold');
    expect((await seriesNow(station)).switching).toMatchObject({ severity: 'normal', behind: [first] });
  });

  it('go by what the plan said, not by what two people decided against it', async () => {
    const station = openedStation();
    const meter = await tinyMeter(SETTINGS);
    const run = await inspected(station, meter, lot('L-1'), 2);
    await inspected(station, meter, lot('L-2'), 2);
    await station.ask('correct-decision', { run, disposition: 'accepted', by: BY, reason: 'r', approvedBy: 'Q. Lead' });
    expect((await seriesNow(station)).switching.severity).toBe('tightened');
  });

  it('on the simulated bench never count', async () => {
    const station = openedStation();
    const claim = { ...lot('L-1'), part: { ...lot('L-1').part, nominal: '1k' } };
    for (const number of ['L-1', 'L-2']) {
      const { run } = await station.ask('receive-lot', { claim: { ...claim, lot: { ...claim.lot, number } } });
      await readyBench(station, run, 'sim:7');
      while (outlook(await runOf(station, run)) === 'undecided') await station.ask('take-reading', { run });
      await checkBench(station, run);
      const says = outlook(await runOf(station, run)) === 'accept' ? 'accepted' : 'not-accepted';
      await station.ask('decide-lot', { run, disposition: says, by: BY });
    }
    expect(await seriesNow(station, { lot: 'L-1' })).toMatchObject({
      switching: { severity: 'normal', behind: [] },
      offeredAgainAfter: null,
    });
  });
});
