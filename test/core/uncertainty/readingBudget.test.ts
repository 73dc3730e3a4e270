import { describe, expect, it } from 'vitest';
import { meterData } from '../../../core/accuracy/meterData.ts';
import { type ReadingBudget, readingBudget, type Situation } from '../../../core/uncertainty/readingBudget.ts';

const data = meterData.parse({
  calibration: { date: '2026-03-01', due: '2027-02-28', certificate: 'C-1' },
  validDays: 365,
  ambient: { lowest: '18', highest: '28' },
  ranges: [
    {
      method: 'both',
      fullScaleOhms: '10000',
      percentOfReading: '0.01',
      plus: { percentOfRange: '0.001' },
      perKelvin: { percentOfReading: '0.001', percentOfRange: '0.0001' },
      testCurrentAmperes: '0.0001',
    },
    { method: 'both', fullScaleOhms: '100000', percentOfReading: '0.01', plus: { percentOfRange: '0.001' } },
  ],
});
const range = data.ranges[0] ?? null;

/** Nothing but the meter's limit of error and its last digit. */
const plainly: Situation = {
  ohms: '4702.13',
  raw: '+4.70213E+03',
  method: '4-wire',
  meterRange: range,
  meterData: data,
  trustMeterData: true,
  ambientCelsius: '23',
  zero: { readings: [] },
  leadChangeOhms: '0',
  reference: null,
  repeatability: null,
  temperature: { referenceCelsius: '20', coefficient: { kind: 'unknown' }, thermometerKelvins: '1' },
};

const lines = ({ budget }: ReadingBudget) =>
  Object.fromEntries((budget?.contributions ?? []).map((one) => [one.name, one]));

describe('budget of one reading', () => {
  it('limit of error and last digit, rectangular (JCGM 100, 4.3.7 and F.2.2.1; worked by hand)', () => {
    const worth = readingBudget(plainly);
    const { 'accuracy of the meter': accuracy, resolution } = lines(worth);
    // 0.01 % of 4702.13 Ω and 0.001 % of 10 kΩ.
    expect(accuracy?.given).toBe('±0.570213 Ω');
    expect(accuracy?.ohms).toBeCloseTo(0.570213 / Math.sqrt(3), 12);
    expect(resolution?.given).toBe('±0.005 Ω');
    expect(resolution?.ohms).toBeCloseTo(0.005 / Math.sqrt(3), 12);
    expect(worth.budget?.combinedOhms).toBeCloseTo(Math.sqrt((0.570213 ** 2 + 0.005 ** 2) / 3), 12);
    // 2 · 0.32922... = 0.65846...
    expect(worth.expandedOhms).toBe('0.66');
    expect(worth.coverageFactor).toBe('2.00');
    expect(worth.basis).toBe('limits-of-error');
  });

  it('a last digit of 1 milliohm is worth 0.29 milliohm, a reference of ±20 milliohm 10 milliohm (WMO CIMO ohmmeter budget)', () => {
    const worth = readingBudget({
      ...plainly,
      ohms: '100.000',
      raw: '100.000',
      meterData: null,
      reference: { ohms: '100', uncertaintyOhms: '0.020', measuredOhms: ['100.000'], mostDriftOhms: '0' },
    });
    const { reference, resolution } = lines(worth);
    expect(((resolution?.ohms ?? 0) * 1000).toFixed(2)).toBe('0.29');
    expect(reference?.ohms).toBeCloseTo(0.01, 12);
    expect(worth.basis).toBe('reference');
  });

  it('outside the ambient band the limit of error grows as the manual says', () => {
    const { 'accuracy of the meter': accuracy } = lines(readingBudget({ ...plainly, ambientCelsius: '30' }));
    expect(accuracy?.given).toBe(`±${(0.570213 + 2 * (0.0470213 + 0.01)).toFixed(7)} Ω`);
  });

  it('2-wire: the zero, its last digit, and what the leads may do until the next check', () => {
    const worth = readingBudget({
      ...plainly,
      method: '2-wire',
      zero: { readings: ['0.31', '0.33', '0.32'] },
      leadChangeOhms: '0.16',
    });
    const { zero, 'resolution of the zero': digit, 'leads and contacts': leads } = lines(worth);
    // s = 0.01 Ω; of a median of three no more than √(π/2) of that of their mean.
    expect(zero?.ohms).toBeCloseTo((0.01 * Math.sqrt(Math.PI / 2)) / Math.sqrt(3), 12);
    expect(zero?.degreesOfFreedom).toBe(2);
    expect(digit?.given).toBe('±0.005 Ω');
    expect(leads?.ohms).toBeCloseTo(0.16 / Math.sqrt(3), 12);
    expect(lines(readingBudget(plainly))).not.toHaveProperty('leads and contacts');
  });

  it('2-wire: the last digit of a zero without decimals is no finer than that of the reading', () => {
    const coarse = { ...plainly, ohms: '4700', raw: '+4.70E+03', method: '2-wire' as const };
    const { 'resolution of the zero': digit } = lines(
      readingBudget({ ...coarse, zero: { readings: ['0', '0', '0'] } }),
    );
    expect(digit?.given).toBe('±5 Ω');
  });

  it('2-wire: a zero read once, or never, says so', () => {
    const once = readingBudget({ ...plainly, method: '2-wire', zero: { readings: ['0.3'] }, leadChangeOhms: '0.1' });
    expect(lines(once)).not.toHaveProperty('zero');
    expect(once.notes.join()).toContain('read once');
    const never = readingBudget({ ...plainly, method: '2-wire', leadChangeOhms: '0.1' });
    expect(never.notes.join()).toContain('No zero');
  });

  it('few degrees of freedom make k larger (Table G.2: 2.87 for 4, from memory)', () => {
    const worth = readingBudget({ ...plainly, repeatability: { ohms: '50', degreesOfFreedom: 4 } });
    expect(worth.budget?.effectiveDegreesOfFreedom).toBeCloseTo(4, 2);
    expect(worth.coverageFactor).toBe('2.87');
    // 2.869 · 50.001
    expect(worth.expandedOhms).toBe('150');
    expect(readingBudget(plainly).notes.join()).toContain('scatter');
  });

  describe('without limits of error that count', () => {
    const reference = {
      ohms: '5000',
      uncertaintyOhms: '0.5',
      measuredOhms: ['5000.20', '4999.70'],
      mostDriftOhms: '1.2',
    };

    it.each([
      ['nobody entered them', { meterData: null }, 'nobody'],
      ['the calibration is not in date', { trustMeterData: false }, 'in date'],
      ['they say nothing of the range', { meterRange: null }, 'range'],
      ['the reading is above the range', { ohms: '12000.1', raw: '1.20001E+04' }, 'above the range'],
      ['it is too warm', { meterRange: data.ranges[1] ?? null, ambientCelsius: '31' }, 'ambient band'],
    ])('a reference is what it rests on, or nothing: %s', (_, missing, words) => {
      const without = readingBudget({ ...plainly, ...missing });
      expect(without).toMatchObject({ budget: null, basis: null, expandedOhms: null });
      expect(without.why).toContain(words);
      expect(without.why).toContain('no reference');
      const withIt = readingBudget({ ...plainly, ...missing, reference });
      expect(withIt.basis).toBe('reference');
      expect(withIt.why).toContain(words);
      expect(withIt.expandedOhms).not.toBeNull();
    });

    it('takes its uncertainty, the most the meter showed off it (F.2.4.5) and may move until the next check, larger values in proportion', () => {
      const below = lines(readingBudget({ ...plainly, meterData: null, reference }));
      expect(below.reference?.ohms).toBeCloseTo(0.25, 12);
      expect(below['meter against the reference']?.ohms).toBeCloseTo(0.3 / Math.sqrt(3), 12);
      expect(below['drift of the meter']?.ohms).toBeCloseTo(1.2 / Math.sqrt(3), 12);
      const above = lines(readingBudget({ ...plainly, ohms: '10000', raw: '1.00000E+04', meterData: null, reference }));
      expect(above.reference?.ohms).toBeCloseTo(0.5, 12);
      expect(above['meter against the reference']?.ohms).toBeCloseTo(0.6 / Math.sqrt(3), 12);
      expect(above['drift of the meter']?.ohms).toBeCloseTo(2.4 / Math.sqrt(3), 12);
    });

    it.each([
      ['4702.13', '470.213', true],
      ['4702.14', '470.213', false],
      ['400', '4000', true],
      ['400', '4000.1', false],
    ])('a reference of %s Ω for %s Ω: %s', (ohms, reading, counts) => {
      const worth = readingBudget({
        ...plainly,
        ohms: reading,
        raw: reading,
        meterData: null,
        reference: { ohms, uncertaintyOhms: '0.1', measuredOhms: [ohms], mostDriftOhms: '0.1' },
      });
      expect(worth.basis).toBe(counts ? 'reference' : null);
    });

    it('limits of error that count go before a reference', () => {
      expect(readingBudget({ ...plainly, reference }).basis).toBe('limits-of-error');
    });
  });

  it('temperature: a limit widens, a known coefficient brings everything to the reference temperature', () => {
    const limit = readingBudget({
      ...plainly,
      temperature: {
        ...plainly.temperature,
        coefficient: { kind: 'limit', ppmPerKelvin: '100' },
        thermometerKelvins: '0',
      },
    });
    const [name] = Object.keys(lines(limit)).filter((one) => one.startsWith('temperature'));
    // 4702.13 Ω · 100 ppm/K · 3 K
    expect(lines(limit)[name ?? '']?.ohms).toBeCloseTo(1.410639 / Math.sqrt(3), 12);
    const known = readingBudget({
      ...plainly,
      ambientCelsius: '28',
      temperature: {
        ...plainly.temperature,
        coefficient: { kind: 'known', ppmPerKelvin: '4000', uncertaintyPpmPerKelvin: '0' },
        thermometerKelvins: '0',
      },
    });
    expect(known.budget?.combinedOhms).toBeCloseTo((readingBudget(plainly).budget?.combinedOhms ?? 0) / 1.032, 9);
  });

  it('is not known without an ambient temperature where the coefficient matters', () => {
    const coefficient = { kind: 'limit', ppmPerKelvin: '100' } as const;
    const worth = readingBudget({
      ...plainly,
      ambientCelsius: null,
      temperature: { ...plainly.temperature, coefficient },
    });
    expect(worth.expandedOhms).toBeNull();
    expect(worth.why).toContain('ambient temperature');
    const unknown = readingBudget({ ...plainly, ambientCelsius: null });
    expect(unknown.expandedOhms).toBe('0.66');
    expect(unknown.notes.join()).toContain('ambient temperature is not known');
  });

  it('is not known where the last digit is not', () => {
    expect(readingBudget({ ...plainly, raw: 'four' }).expandedOhms).toBeNull();
  });

  it('U is rounded up to two figures, and both are written (JCGM 100, 7.2.6)', () => {
    const faultless = { method: 'both', fullScaleOhms: '10000', percentOfReading: '0', plus: { percentOfRange: '0' } };
    const [meterRange = null] = meterData.parse({ ...data, ranges: [faultless] }).ranges;
    const withScatter = (ohms: string) => {
      const repeatability = { ohms, degreesOfFreedom: 2_000_000 };
      return readingBudget({ ...plainly, meterRange, raw: '4702.0000000000', repeatability }).expandedOhms;
    };
    // k is 2.000002 here; the rest is nothing.
    expect(withScatter('0.00999')).toBe('0.020');
    expect(withScatter('0.01001')).toBe('0.021');
    expect(withScatter('0.499')).toBe('1.0');
    expect(withScatter('49.9')).toBe('100');
    expect(withScatter('617')).toBe('1300');
  });
});
