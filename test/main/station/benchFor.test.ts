import { describe, expect, it } from 'vitest';
import { formatLimit, parseLimit } from '../../../core/accuracy/limitText.ts';
import { meterData } from '../../../core/accuracy/meterData.ts';
import { testCurrent } from '../../../instruments/bench/testCurrent.ts';
import { benchMeterData } from '../../../main/station/benchMeterData.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { readyBench, runOf } from '../../readyBench.ts';

/** The first twenty pieces of 4.7 kΩ ±1 %, as a run at this address reads them. */
async function readingsAt(address: string): Promise<number[]> {
  const station = openedStation();
  const { run } = await station.ask('receive-lot', { claim: exampleLot() });
  await readyBench(station, run, address);
  for (let piece = 1; piece <= 20; piece++) await station.ask('take-reading', { run });
  return (await runOf(station, run)).readings.slice().map(({ ohms }) => Number(ohms));
}

describe('the reel an address lays on the simulated bench', () => {
  it('is what a run meets', async () => {
    const off = (await readingsAt('sim:7?reel=sorted')).map((ohms) => Math.abs(ohms - 4700));
    // A hole of three tenths of 47 Ω; the air of 23 °C moves all by 150 ppm, 0.7 Ω.
    expect(Math.min(...off)).toBeGreaterThan(13);
    expect(Math.max(...off)).toBeLessThan(47);
    expect(Math.min(...(await readingsAt('sim:7')).map((ohms) => Math.abs(ohms - 4700)))).toBeLessThan(13);
  });

  it('has the same pieces before and after a treatment', async () => {
    const before = await readingsAt('sim:7?reel=cut');
    const after = await readingsAt('sim:7?reel=cut&stressed=load');
    const changes = before.map((ohms, index) => ((after[index] ?? Number.NaN) / ohms - 1) * 1e6);
    // Load changes pieces by 500 ppm on average, and the reels spread by 5000.
    const sorted = changes.toSorted((a, b) => a - b);
    expect(sorted[10]).toBeGreaterThan(250);
    expect(sorted[10]).toBeLessThan(750);
  });

  it('is refused where nobody knows it', async () => {
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    expect(await problemOf(station.ask('connect-meter', { run, address: 'sim:7?reel=round' }))).toBe(
      'address-unreadable',
    );
  });
});

describe("the simulated bench's own meter data", () => {
  it('give the current its ranges are read with', () => {
    const data = meterData.parse(benchMeterData('2026-11-25'));
    expect(data.ranges.map(({ testCurrentAmperes }) => testCurrentAmperes)).toEqual([
      ...['0.001', '0.001', '0.0001', '0.00001', '0.000001', '0.0000001', '0.00000001'],
    ]);
    for (const range of data.ranges) {
      expect(Number(range.testCurrentAmperes)).toBe(testCurrent(Number(range.fullScaleOhms)));
      expect(parseLimit(formatLimit(range))).toMatchObject({ testCurrentAmperes: range.testCurrentAmperes });
    }
  });
});
