import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestPreferred, SERIES, SERIES_NAMES, type Series, seriesOf } from '../../../core/marking/preferred.ts';
import { sharedTable } from '../sampling/sharedTable.ts';

const series = fc.constantFrom(...SERIES_NAMES);
/** Resistances of 0.001 Ω to 10 GΩ as people write them. */
const ohms = fc
  .tuple(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: -7, max: 5 }))
  .map(([figures, power]) => new Big(`${figures}e${power}`).toFixed());

describe('preferred numbers', () => {
  it('are those of the whole table where it is at hand', () => {
    const table = sharedTable('iec60063-e-series.csv');
    if (!table) return;
    expect(table).toHaveLength(3 + 6 + 12 + 24 + 48 + 96 + 192);
    for (const name of SERIES_NAMES) {
      const rows = table.filter((row) => row.series === name);
      expect(SERIES[name].significands, name).toEqual(rows.map((row) => Number(row.significand)));
    }
  });

  // Common practice: the sheet of E24 that everybody knows (IEC 60063).
  it('of E24 are the well-known ones', () =>
    expect(SERIES.E24.significands.join(' ')).toBe(
      '10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91',
    ));

  // IEC 60063 (values as listed in published E192 columns): the one number of E192 that the rule would give as 919.
  it('of E192 hold 909, 920 and 931, not 919', () => {
    expect(SERIES.E192.significands).toEqual(expect.arrayContaining([909, 920, 931]));
    expect(SERIES.E192.significands).not.toContain(919);
  });

  it('nest as IEC 60063 has it: E3 to E12 in E24, E48 and E96 in E192, and E24 not in E192', () => {
    const all = (inner: Series, outer: Series) =>
      SERIES[inner].significands.every((value) => SERIES[outer].significands.includes(value));
    expect(all('E3', 'E6') && all('E6', 'E12') && all('E12', 'E24')).toBe(true);
    expect(all('E48', 'E96') && all('E96', 'E192')).toBe(true);
    // Shared check values, section 2.
    const missing = SERIES.E24.significands.map((s) => s * 10).filter((s) => !SERIES.E192.significands.includes(s));
    expect(missing.join(' ')).toBe('220 270 300 330 360 390 430 510 560 620 680 820 910');
  });
});

describe('the series of a value', () => {
  it.each([
    ['4700', 'E3 E6 E12 E24 E192'],
    ['0.47', 'E3 E6 E12 E24 E192'],
    ['100', 'E3 E6 E12 E24 E48 E96 E192'],
    ['1', 'E3 E6 E12 E24 E48 E96 E192'],
    ['330', 'E6 E12 E24'],
    ['0.0033', 'E6 E12 E24'],
    ['49.9', 'E96 E192'],
    ['920000', 'E192'],
    ['919', ''],
    ['47000000000', 'E3 E6 E12 E24 E192'],
    ['750', 'E24 E48 E96 E192'],
    ['4701', ''],
    ['4700.0000001', ''],
    ['50', ''],
    ['0', ''],
    ['-47', ''],
    ['4700.00', 'E3 E6 E12 E24 E192'],
  ])('%s ohm is %j', (value, names) => expect(seriesOf(value).join(' ')).toBe(names));

  it('is the same in every decade from 0.01 to 1e9, exactly', () => {
    for (const name of SERIES_NAMES) {
      const { significands, figures } = SERIES[name];
      for (const significand of significands) {
        const first = seriesOf(String(significand));
        expect(first).toContain(name);
        for (let power = -2; power <= 9; power += 1) {
          const value = new Big(significand).times(`1e${power - figures + 1}`);
          expect(seriesOf(value.toFixed()), value.toFixed()).toEqual(first);
          const off = value.plus(`1e${power - 12}`).toFixed();
          expect(seriesOf(off), off).toEqual([]);
        }
      }
    }
  });
});

describe('the preferred numbers beside a value', () => {
  it.each([
    ['5000', 'E24', '4700', '5100', '5100'],
    ['5000', 'E96', '4990', '5110', '4990'],
    ['50', 'E3', '47', '100', '47'],
    ['0.05', 'E12', '0.047', '0.056', '0.047'],
    ['99', 'E192', '98.8', '100', '98.8'],
    ['98', 'E96', '97.6', '100', '97.6'],
    ['0.0099', 'E24', '0.0091', '0.01', '0.01'],
    ['4700', 'E6', '4700', '4700', '4700'],
    ['1000000000', 'E96', '1000000000', '1000000000', '1000000000'],
    ['9999999999', 'E24', '9100000000', '10000000000', '10000000000'],
    ['1.0000001', 'E192', '1', '1.01', '1'],
  ] as const)('%s ohm in %s: %s and %s, nearer %s', (value, name, below, above, nearest) =>
    expect(nearestPreferred(value, name)).toEqual({ below, above, nearest }),
  );

  it.each(['0', '-5'])('%s ohm has none', (value) => expect(nearestPreferred(value, 'E24')).toBeNull());

  it('enclose it, belong to the series, and have none between them', () =>
    fc.assert(
      fc.property(ohms, series, (value, name) => {
        const beside = nearestPreferred(value, name);
        if (!beside) return expect.unreachable();
        const [below, above] = [new Big(beside.below), new Big(beside.above)];
        expect(below.lte(value) && above.gte(value)).toBe(true);
        expect(seriesOf(beside.below)).toContain(name);
        expect(seriesOf(beside.above)).toContain(name);
        if (seriesOf(value).includes(name)) {
          expect(beside.above).toBe(beside.below);
        } else {
          // The next one up from just above the lower one is the upper one.
          const next = nearestPreferred(below.times('1.000001').toFixed(), name);
          expect(next?.above).toBe(beside.above);
        }
        const [far] = [beside.below, beside.above].filter((one) => one !== beside.nearest);
        if (far) {
          const ratio = (one: string) => Math.abs(Math.log(Number(one) / Number(value)));
          expect(ratio(beside.nearest)).toBeLessThanOrEqual(ratio(far) + 1e-12);
        }
      }),
      { numRuns: 3000 },
    ));
});
