import { describe, expect, it } from 'vitest';
import { meterData } from '../../core/accuracy/meterData.ts';
import {
  draftOf,
  EMPTY_METER_DATA,
  EMPTY_RANGE,
  type MeterDataDraft,
  type RangeDraft,
  readMeterData,
} from '../../renderer/meterData/meterDataDraft.ts';
import { METER_DATA } from '../core/inspection/walk.ts';

const RANGE: RangeDraft = {
  ...EMPTY_RANGE,
  fullScale: '100k',
  percentOfReading: '.010',
  percentOfRange: '0.001 %',
  current: '10u',
};
const FULL: MeterDataDraft = {
  date: '2026-03-01',
  due: ' 2027-02-28',
  certificate: 'C-118',
  by: '',
  validDays: '365',
  lowest: '18',
  highest: '28',
  ranges: [RANGE],
};
const withRange = (over: Partial<RangeDraft>) => ({ ...FULL, ranges: [{ ...RANGE, ...over }] });

describe('the form for accuracy and calibration', () => {
  it('reads what is written as manuals print it', () => {
    const { data, problems } = readMeterData({ ...FULL, ranges: [EMPTY_RANGE, RANGE] });
    expect(problems).toEqual({});
    expect(data?.ranges).toEqual([
      {
        method: 'both',
        fullScaleOhms: '100000',
        percentOfReading: '0.010',
        plus: { percentOfRange: '0.001' },
        perKelvin: null,
        testCurrentAmperes: '0.00001',
      },
    ]);
  });

  it('reads counts, and what comes on per kelvin', () => {
    const { data } = readMeterData(
      withRange({ percentOfRange: '', counts: '3', countOhms: '0R1', kelvinReading: '0.0006' }),
    );
    expect(data?.ranges[0]).toMatchObject({
      plus: { counts: '3', countOhms: '0.1' },
      perKelvin: { percentOfReading: '0.0006', percentOfRange: '0' },
    });
  });

  it('shows data that are kept, so that they are kept the same', () => {
    expect(readMeterData(draftOf(METER_DATA)).data).toEqual(METER_DATA);
    const others = meterData.parse({
      ...METER_DATA,
      ranges: [
        {
          method: '4-wire',
          fullScaleOhms: '0.01',
          percentOfReading: '0.1',
          plus: { counts: '5', countOhms: '0.000001' },
          testCurrentAmperes: '1',
        },
      ],
    });
    expect(readMeterData(draftOf(others)).data).toEqual(others);
  });

  it.each([
    [{ ...FULL, date: '1 March' }, 'date', 'Expected a day like'],
    [{ ...FULL, due: '2026-02-28' }, 'due', 'before its own day'],
    [{ ...FULL, certificate: ' ' }, 'certificate', 'Must not be empty'],
    [{ ...FULL, validDays: 'a year' }, 'validDays', 'Whole days'],
    [{ ...FULL, validDays: '' }, 'validDays', 'Whole days'],
    [{ ...FULL, lowest: '' }, 'lowest', 'Write a number'],
    [{ ...FULL, lowest: '30' }, 'highest', 'above the lower one'],
    [{ ...FULL, lowest: 'cold' }, 'lowest', 'Write a number'],
    [{ ...FULL, ranges: [EMPTY_RANGE] }, 'ranges', 'at least one range'],
    [{ ...FULL, ranges: [RANGE, { ...RANGE, method: '2-wire' }] }, 'ranges', 'same range twice'],
    [withRange({ fullScale: '' }), '0.fullScale', 'Must not be empty'],
    [withRange({ fullScale: 'large' }), '0.fullScale', '"large" is not a resistance'],
    [withRange({ percentOfReading: '0,01' }), '0.percentOfReading', 'Write a number'],
    [withRange({ percentOfReading: '-0.01' }), '0.percentOfReading', 'Must not be negative'],
    [withRange({ percentOfRange: '' }), '0.percentOfRange', 'Per cent of range, or counts'],
    [withRange({ counts: '3', countOhms: '1' }), '0.percentOfRange', 'not both'],
    [withRange({ percentOfRange: '', counts: '3' }), '0.countOhms', 'Must not be empty'],
    [withRange({ kelvinReading: 'x' }), '0.kelvinReading', 'Write a number'],
    [withRange({ current: 'one' }), '0.current', 'Write it like 1m'],
  ] as [MeterDataDraft, string, string][])('puts what is wrong beside its field, case %#', (draft, field, text) => {
    const { data, problems } = readMeterData(draft);
    expect(data).toBeNull();
    expect(Object.keys(problems)).toEqual([field]);
    expect(problems[field]).toContain(text);
  });

  it('names the row that is wrong, blank rows before it or not', () => {
    const { problems } = readMeterData({
      ...FULL,
      ranges: [RANGE, EMPTY_RANGE, { ...RANGE, fullScale: '1M', percentOfReading: '' }],
    });
    expect(Object.keys(problems)).toEqual(['2.percentOfReading']);
  });

  it('marks every field that must be filled when nothing is', () => {
    expect(Object.keys(readMeterData(EMPTY_METER_DATA).problems).toSorted()).toEqual([
      'certificate',
      'date',
      'due',
      'highest',
      'lowest',
      'ranges',
      'validDays',
    ]);
  });
});
