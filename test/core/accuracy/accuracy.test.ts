import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calibrationAt } from '../../../core/accuracy/calibration.ts';
import { chooseRange, rangeHolding, rangeOf, rangesFor } from '../../../core/accuracy/chooseRange.ts';
import { limitOfError } from '../../../core/accuracy/limitOfError.ts';
import { formatLimit, parseLimit } from '../../../core/accuracy/limitText.ts';
import { type MeterDataInput, type MeterRange, meterData } from '../../../core/accuracy/meterData.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { METER_DATA } from '../inspection/walk.ts';

const BAND = { ambient: { lowest: '18', highest: '28' } };

function range(over: Partial<MeterRange>): MeterRange {
  return {
    method: '2-wire',
    fullScaleOhms: '10000',
    percentOfReading: '0.01',
    plus: { percentOfRange: '0.001' },
    perKelvin: null,
    testCurrentAmperes: null,
    ...over,
  };
}

describe('the limit of error of a reading', () => {
  // From memory: the worked example that data sheets of 6½-digit meters print for ±(0.0020 % of reading + 0.0005 % of
  // range) at 5 V on the 10 V range: 100 µV + 50 µV = 150 µV. The unit does not matter to the arithmetic.
  it('is 150 millionths at 5 on a range of 10, ±(0.0020 % of reading + 0.0005 % of range)', () => {
    const ten = range({ fullScaleOhms: '10', percentOfReading: '0.0020', plus: { percentOfRange: '0.0005' } });
    expect(limitOfError(BAND, ten, '5')).toBe('0.00015');
  });

  it.each([
    // 4700 × 0.0001 + 10000 × 0.00001 = 0.47 + 0.1, by hand.
    ['% of reading + % of range', range({}), '4700', null, '0.57'],
    ['the size of a negative reading', range({}), '-4700', null, '0.57'],
    ['at 0 the share of the range alone', range({}), '0', null, '0.1'],
    // 0.05 % of 470 + 3 counts of 0.01: 0.235 + 0.03, by hand.
    [
      '% of reading + counts',
      range({ percentOfReading: '0.05', plus: { counts: '3', countOhms: '0.01' } }),
      '470',
      null,
      '0.265',
    ],
    // 5 K outside: 0.57 + 5 × (4700 × 0.000006 + 10000 × 0.000001) = 0.57 + 5 × 0.0382, by hand.
    [
      'above the band',
      range({ perKelvin: { percentOfReading: '0.0006', percentOfRange: '0.0001' } }),
      '4700',
      '33',
      '0.761',
    ],
    [
      'below the band',
      range({ perKelvin: { percentOfReading: '0.0006', percentOfRange: '0.0001' } }),
      '4700',
      '13',
      '0.761',
    ],
    [
      'half a kelvin above',
      range({ perKelvin: { percentOfReading: '0.0006', percentOfRange: '0.0001' } }),
      '4700',
      '28.5',
      '0.5891',
    ],
    ['on the edge of the band', range({}), '4700', '28', '0.57'],
    [
      'nothing at all of an exact meter',
      range({ percentOfReading: '0', plus: { percentOfRange: '0' } }),
      '4700',
      null,
      '0',
    ],
  ])('%s', (_, of, ohms, celsius, wanted) => expect(limitOfError(BAND, of, ohms, celsius)).toBe(wanted));

  it('is not known outside the band where the manual gives no temperature coefficient', () => {
    expect(() => limitOfError(BAND, range({}), '4700', '28.1')).toThrowError(
      expect.objectContaining({
        code: 'accuracy-missing',
        what: expect.stringContaining('28.1 °C is outside 18 °C to 28 °C'),
      }),
    );
  });

  it('comes back from its words (property)', () => {
    const number = fc.integer({ min: 0, max: 1_000_000 }).map((whole) => new Big(whole).times('0.000001').toFixed());
    const limit = fc.record({
      percentOfReading: number,
      plus: fc.oneof(fc.record({ percentOfRange: number }), fc.record({ counts: number, countOhms: number })),
      perKelvin: fc.option(fc.record({ percentOfReading: number, percentOfRange: number })),
      testCurrentAmperes: fc.option(number),
    });
    fc.assert(
      fc.property(limit, (one) => {
        expect(parseLimit(formatLimit(one))).toEqual(one);
      }),
    );
    expect(parseLimit('±(0.01 % of reading)')).toBeNull();
  });
});

describe('the range for a window', () => {
  const coarse = range({ fullScaleOhms: '5000', percentOfReading: '0.1' });

  it('is the one with the smallest limit of error among those that hold all of it', () => {
    expect(chooseRange(METER_DATA, '2-wire', { upper: '4747' })?.fullScaleOhms).toBe('10000');
    expect(chooseRange(METER_DATA, '2-wire', { upper: '10000' })?.fullScaleOhms).toBe('10000');
    expect(chooseRange(METER_DATA, '2-wire', { upper: '10000.01' })?.fullScaleOhms).toBe('100000');
    // 4747 Ω: ±4.847 Ω on the range of 5 kΩ, ±0.5747 Ω on that of 10 kΩ, by hand.
    const data = { ...BAND, ranges: [coarse, range({})] };
    expect(chooseRange(data, '2-wire', { upper: '4747' })?.fullScaleOhms).toBe('10000');
  });

  it('is none where the window has no upper limit', () => {
    expect(chooseRange(METER_DATA, '2-wire', { upper: null })).toBeNull();
  });

  it('is refused with the reason where no range holds the window, or none is of the method', () => {
    expect(() => chooseRange(METER_DATA, '2-wire', { upper: '100000001' })).toThrowError(
      expect.objectContaining({ code: 'range-too-small', what: expect.stringContaining('100000000 Ω') }),
    );
    expect(() => chooseRange({ ...BAND, ranges: [range({})] }, '4-wire', { upper: '100' })).toThrowError(
      expect.objectContaining({ code: 'accuracy-missing', what: expect.stringContaining('4-wire') }),
    );
  });

  it('holds the window, and none that holds it is better (property)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000_000 }), (ohms) => {
        const upper = String(ohms);
        const chosen = chooseRange(METER_DATA, '4-wire', { upper }) as MeterRange;
        expect(Number(chosen.fullScaleOhms)).toBeGreaterThanOrEqual(ohms);
        for (const other of rangesFor(METER_DATA, '4-wire')) {
          if (Number(other.fullScaleOhms) < ohms) continue;
          expect(Number(limitOfError(METER_DATA, chosen, upper))).toBeLessThanOrEqual(
            Number(limitOfError(METER_DATA, other, upper)),
          );
        }
      }),
    );
  });

  it('is found by its full scale however that is written, and by what it holds', () => {
    expect(rangeOf(METER_DATA, '2-wire', '10000.00')?.fullScaleOhms).toBe('10000');
    expect(rangeOf(METER_DATA, '2-wire', '12000')).toBeNull();
    expect(rangeHolding(METER_DATA, '2-wire', '1000.1')?.fullScaleOhms).toBe('10000');
    expect(rangeHolding(METER_DATA, '2-wire', '1e9')).toBeNull();
  });
});

describe('a calibration', () => {
  const real = { identity: { simulated: false }, data: METER_DATA };
  const at = (day: string) => calibrationAt(real, `${day}T23:59:59+02:00`).state;

  it('is in date from its day to the due day, both inside, where the bench stands', () => {
    expect(at('2026-01-09')).toBe('overdue');
    expect(at('2026-01-10')).toBe('in-date');
    expect(at('2027-01-09')).toBe('in-date');
    expect(at('2027-01-10')).toBe('overdue');
    // Still the 9th where the bench stands, although the 10th in Greenwich.
    expect(calibrationAt(real, '2027-01-09T23:30:00-05:00').state).toBe('in-date');
  });

  it('is in date no longer than its limits of error hold', () => {
    const data = { ...METER_DATA, validDays: 90 };
    // 2026-01-10 and 90 days: 21 left of January, 28, 31, and 10: the 10th of April, by hand.
    expect(calibrationAt({ ...real, data }, '2026-04-10T12:00:00Z').state).toBe('in-date');
    expect(calibrationAt({ ...real, data }, '2026-04-11T00:00:00Z')).toMatchObject({
      state: 'overdue',
      why: expect.stringContaining('90 days from 2026-01-10, to 2026-04-10'),
    });
  });

  it('is unknown where nobody entered it, and always in date at the simulated bench', () => {
    expect(calibrationAt({ ...real, data: null }, '2026-03-02T12:00:00Z').state).toBe('unknown');
    for (const data of [null, METER_DATA]) {
      expect(calibrationAt({ identity: { simulated: true }, data }, '2099-01-01T12:00:00Z').state).toBe('in-date');
    }
  });
});

describe('meter data', () => {
  const good: MeterDataInput = {
    calibration: { date: '2026-01-10', due: '2027-01-09', certificate: 'C-118' },
    validDays: 365,
    ambient: { lowest: '18', highest: '28' },
    ranges: [{ method: 'both', fullScaleOhms: '100', percentOfReading: '0.01', plus: { percentOfRange: '0.004' } }],
  };
  const one = good.ranges[0] as MeterDataInput['ranges'][number];

  it('may leave out what manuals leave out', () => {
    const { ranges } = meterData.parse(good);
    expect(ranges[0]).toMatchObject({ perKelvin: null, testCurrentAmperes: null });
  });

  it.each([
    ['a due day before the calibration', { calibration: { ...good.calibration, due: '2025-12-31' } }],
    ['no day at all', { calibration: { ...good.calibration, date: '10.1.2026' } }],
    ['a day that does not exist', { calibration: { ...good.calibration, due: '2027-02-30' } }],
    ['no certificate', { calibration: { ...good.calibration, certificate: ' ' } }],
    ['a band upside down', { ambient: { lowest: '28', highest: '18' } }],
    ['a band of words', { ambient: { lowest: 'cold', highest: 'warm' } }],
    ['no range', { ranges: [] }],
    ['a range of 0', { ranges: [{ ...one, fullScaleOhms: '0' }] }],
    ['a negative share', { ranges: [{ ...one, percentOfReading: '-0.01' }] }],
    ['a number that is not a decimal', { ranges: [{ ...one, percentOfReading: '1e-2' }] }],
    ['neither a share of the range nor counts', { ranges: [{ ...one, plus: {} }] }],
    ['the same range twice', { ranges: [one, { ...one, method: '2-wire', fullScaleOhms: '100.0' }] }],
    ['limits that hold for no day', { validDays: 0 }],
    ['a field nobody knows', { colour: 'grey' }],
  ])('are refused with %s', (_, over) => expect(meterData.safeParse({ ...good, ...over }).success).toBe(false));

  it('never throw anything but problems in the arithmetic (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 }),
        fc.integer(),
        (ohms, celsius) => {
          try {
            limitOfError(METER_DATA, METER_DATA.ranges[0] as MeterRange, new Big(ohms).toFixed(), String(celsius));
          } catch (thrown) {
            expect(thrown).toBeInstanceOf(Problem);
          }
        },
      ),
    );
  });
});
