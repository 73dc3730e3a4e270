import { describe, expect, it } from 'vitest';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readyBench, readyRealBench } from '../../readyBench.ts';
import { SETTINGS, tinyMeter } from '../../tinyMeter.ts';

async function receive(station: Station, claim: LotClaimInput): Promise<number> {
  return (await station.ask('receive-lot', { claim })).run;
}

function lot(number: string, supplier = 'Example Supply'): LotClaimInput {
  const claim = exampleLot();
  return { ...claim, lot: { ...claim.lot, number, supplier } };
}

describe('the history of the lots of a part and supplier', () => {
  it('gives mean and standard deviation of the readings that count, lots in the order they were received', async () => {
    const station = openedStation();
    const meter = await tinyMeter(SETTINGS);
    meter.ohms = '+4.7001E+03';
    const first = await receive(station, lot('L-1'));
    await readyRealBench(station, first, meter);
    // 4700.0, 4700.1, 4700.2 Ω once the zero of 0.1 Ω is subtracted: mean 4700.1 Ω, s 0.1 Ω by hand. The void one is far off.
    for (const shown of ['+4.7001E+03', '+4.7400E+03', '+4.7002E+03', '+4.7003E+03']) {
      meter.ohms = shown;
      await station.ask('take-reading', { run: first });
    }
    await station.ask('void-reading', { run: first, reading: 2, by: 'Ines Okoro', reason: 'slipped' });
    const second = await receive(station, lot('L-2'));
    await receive(station, lot('L-3', 'another supplier'));

    const history = await station.ask('lot-history', { run: second });
    expect(history.map((each) => each.lot)).toEqual(['L-1', 'L-2']);
    expect(history[0]).toMatchObject({ run: first, count: 3, disposition: null });
    expect(history[0]?.meanOhms).toBeCloseTo(4700.1, 9);
    expect(history[0]?.standardDeviationOhms).toBeCloseTo(0.1, 9);
    expect(history[1]).toMatchObject({ run: second, count: 0, meanOhms: null, standardDeviationOhms: null });
  });

  it('leaves out open pieces, and gives no standard deviation of one reading', async () => {
    const station = openedStation();
    const meter = await tinyMeter(SETTINGS);
    meter.ohms = '+4.7001E+03';
    const run = await receive(station, lot('L-1'));
    await readyRealBench(station, run, meter);
    for (const shown of ['+4.7001E+03', '+9.9E+37']) {
      meter.ohms = shown;
      await station.ask('take-reading', { run });
    }
    const [figures] = await station.ask('lot-history', { run });
    expect(figures).toMatchObject({ count: 1, meanOhms: 4700, standardDeviationOhms: null });
  });

  it('keeps practice apart from real lots, and studies out of both', async () => {
    const station = openedStation();
    const real = await receive(station, lot('L-1'));
    const practice = await receive(station, lot('L-2'));
    await readyBench(station, practice);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run: practice });
    const study = await receive(station, {
      ...lot('L-3'),
      plan: { study: { design: 'crossed', pieces: 2, operators: ['A', 'B'], repeats: 2, seed: 1 } },
    });
    const of = async (run: number) => (await station.ask('lot-history', { run })).map((each) => each.run);
    expect(await of(real)).toEqual([real]);
    expect(await of(practice)).toEqual([practice]);
    expect(await of(study)).toEqual([real]);
    expect(await problemOf(of(99))).toBe('run-unknown');
  });
});
