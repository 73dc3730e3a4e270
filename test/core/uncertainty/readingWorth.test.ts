import fc from 'fast-check';
import { expect, it } from 'vitest';
import { meterData } from '../../../core/accuracy/meterData.ts';
import { readingBudget, readingWorth, type Situation } from '../../../core/uncertainty/readingBudget.ts';

// U and k of one reading after the other are worked out without their lines; they must be those of the budget that has them.

const perKelvin = { percentOfReading: '0.0007', percentOfRange: '0.0001' };
const data = meterData.parse({
  calibration: { date: '2026-03-01', due: '2027-02-28', certificate: 'C-1' },
  validDays: 365,
  ambient: { lowest: '18', highest: '28' },
  ranges: [
    {
      method: 'both',
      fullScaleOhms: '10000',
      percentOfReading: '0.0123',
      plus: { percentOfRange: '0.001' },
      perKelvin,
    },
    { method: 'both', fullScaleOhms: '100000', percentOfReading: '0.01', plus: { counts: '3', countOhms: '0.1' } },
  ],
});

const decimal = (least: number, most: number, decimals: number) =>
  fc.double({ min: least, max: most, noNaN: true }).map((value) => value.toFixed(decimals));

const temperature: fc.Arbitrary<Situation['temperature']> = fc
  .constantFrom(
    { kind: 'unknown' as const },
    { kind: 'limit' as const, ppmPerKelvin: '25' },
    { kind: 'known' as const, ppmPerKelvin: '-12.5', uncertaintyPpmPerKelvin: '2' },
  )
  .map((coefficient) => ({ referenceCelsius: '20', coefficient, thermometerKelvins: '0.7' }));

const situation: fc.Arbitrary<Situation> = fc.record({
  ohms: decimal(-50, 13_000, 2),
  raw: fc.constantFrom('+4.70213E+03', '4702.1', '+4.7021E+03'),
  method: fc.constantFrom('2-wire' as const, '4-wire' as const),
  meterRange: fc.constantFrom(...data.ranges, null),
  meterData: fc.constantFrom(data, data, null),
  trustMeterData: fc.constantFrom(true, true, true, false),
  ambientCelsius: fc.constantFrom('23', '23.4', '30.25', '15', null),
  zero: fc.array(decimal(0.01, 0.2, 3), { maxLength: 5 }).map((readings) => ({ readings })),
  leadChangeOhms: fc.constantFrom('0', '0.02'),
  reference: fc.constantFrom(null, {
    ohms: '4700',
    uncertaintyOhms: '0.2',
    measuredOhms: ['4700.02', '4699.9'],
    mostDriftOhms: '0.5',
  }),
  repeatability: fc.constantFrom(null, { ohms: '0.0123', degreesOfFreedom: 4 }, { ohms: '0.9', degreesOfFreedom: 2 }),
  temperature,
});

it('is U and k of the whole budget, whatever is known at the bench (property)', () => {
  let [known, unknown] = [0, 0];
  fc.assert(
    fc.property(situation, fc.array(decimal(1, 12_500, 2), { maxLength: 5 }), (bench, more) => {
      // The readings between two checks one after the other: what is remembered of one must not be taken for the next.
      for (const ohms of [bench.ohms, ...more]) {
        const { expandedOhms, coverageFactor } = readingBudget({ ...bench, ohms });
        expect(readingWorth({ ...bench, ohms })).toEqual({ expandedOhms, coverageFactor });
        if (expandedOhms === null) unknown++;
        else known++;
      }
    }),
    { numRuns: 1000 },
  );
  expect(known).toBeGreaterThan(500);
  expect(unknown).toBeGreaterThan(100);
});
