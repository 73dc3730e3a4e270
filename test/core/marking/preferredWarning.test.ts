import { describe, expect, it } from 'vitest';
import { SERIES, SERIES_NAMES } from '../../../core/marking/preferred.ts';
import { preferredWarning, seriesForTolerance } from '../../../core/marking/preferredWarning.ts';

describe('the series made for a tolerance', () => {
  // Common practice (shared check values, section 2, from Wikipedia "E series"); between two the finer.
  it.each([
    ['50', 'E3'],
    ['40', 'E3'],
    ['20', 'E6'],
    ['10', 'E12'],
    ['5', 'E24'],
    ['3', 'E48'],
    ['2', 'E48'],
    ['1', 'E96'],
    ['1.0', 'E96'],
    ['0.5', 'E192'],
    ['0.25', 'E192'],
    ['0.1', 'E192'],
    ['0.005', 'E192'],
  ])('of %s %% is %s', (tolerance, series) => expect(seriesForTolerance(tolerance)).toBe(series));
});

describe('a warning of a value that is no preferred number', () => {
  it.each([
    // E24 at 1 % and tighter is common practice, though not in E96 or E192.
    ['4700', '1'],
    ['330', '0.1'],
    ['4700', '5'],
    ['4990', '1'],
    ['4990', '0.1'],
    ['101', '0.5'],
    ['9200', '0.25'],
    ['75', '2'],
    ['0.47', '10'],
    ['2.2', '20'],
    ['0', '1'],
    ['0', null],
    ['4990', null],
    ['47', null],
  ])('is not given for %s ohm of %s %%', (ohms, tolerance) => expect(preferredWarning(ohms, tolerance)).toBeNull());

  it('is given for none of its own series at its own tolerance, in any decade', () => {
    for (const name of SERIES_NAMES) {
      for (const significand of SERIES[name].significands) {
        for (const zeros of ['', '0', '000000']) {
          expect(preferredWarning(`${significand}${zeros}`, SERIES[name].tolerancePercent)).toBeNull();
        }
      }
    }
  });

  it.each([
    [
      '4990',
      '5',
      '4.99 kΩ is no preferred number of E24, the series for ±5 %. Beside it in E24 lie 4.7 kΩ and 5.1 kΩ. It is one of E96, made for ±1 %: see whether the tolerance is right.',
    ],
    [
      '50',
      '1',
      '50 Ω is no preferred number of E96, the series for ±1 %, nor of E24. Beside it in E96 lie 49.9 Ω and 51.1 Ω.',
    ],
    [
      '1010',
      '1',
      '1.01 kΩ is no preferred number of E96, the series for ±1 %, nor of E24. Beside it in E96 lie 1 kΩ and 1.02 kΩ. It is one of E192, made for ±0.5 %: see whether the tolerance is right.',
    ],
    [
      '24',
      '10',
      '24 Ω is no preferred number of E12, the series for ±10 %. Beside it in E12 lie 22 Ω and 27 Ω. It is one of E24, made for ±5 %: see whether the tolerance is right.',
    ],
    [
      '0.005',
      '1',
      '5 mΩ is no preferred number of E96, the series for ±1 %, nor of E24. Beside it in E96 lie 4.99 mΩ and 5.11 mΩ. Parts for measuring currents often follow no series.',
    ],
    ['123.4', null, '123.4 Ω is no preferred number of any series, E3 to E192. Beside it in E192 lie 123 Ω and 124 Ω.'],
  ])('is given for %s ohm of %s %%', (ohms, tolerance, words) => expect(preferredWarning(ohms, tolerance)).toBe(words));
});
