import { describe, expect, it } from 'vitest';
import { formatOhms, resolutionOfRaw, showOhms } from '../../../core/quantity/formatOhms.ts';

describe('a resistance shown', () => {
  // SI Brochure, 9th edition, table 7 (prefixes) and 5.4.3 (a blank before the unit). From memory.
  it.each([
    ['0', '0 Ω'],
    ['0.00047', '0.47 mΩ'],
    ['0.47', '470 mΩ'],
    ['1', '1 Ω'],
    ['999.99', '999.99 Ω'],
    ['1000', '1 kΩ'],
    ['4702.13', '4.70213 kΩ'],
    ['3300000', '3.3 MΩ'],
    ['1000000000', '1 GΩ'],
    ['2500000000000', '2.5 TΩ'],
    ['-0.002', '-2 mΩ'],
  ])('%s ohm is %s', (ohms, shown) => expect(formatOhms(ohms)).toBe(shown));

  it.each([
    ['4700', '0.01', '4.70000 kΩ'],
    ['4702.13', '0.01', '4.70213 kΩ'],
    ['4700', '100', '4.7 kΩ'],
    ['4700', '1000', '5 kΩ'],
    ['0.1', '0.0001', '100.0 mΩ'],
    ['0', '0.001', '0.000 Ω'],
  ])('%s ohm read to %s ohm is %s', (ohms, resolutionOhms, shown) =>
    expect(formatOhms(ohms, { resolutionOhms })).toBe(shown),
  );

  it('takes its unit from another value, so that figures can be compared', () => {
    expect(showOhms('995', { like: '4700' })).toEqual({ figures: '0.995', unit: 'kΩ' });
    expect(showOhms('1200000', { like: '4700' })).toEqual({ figures: '1200', unit: 'kΩ' });
  });
});

describe('the last digit of a meter text', () => {
  // IEEE 488.2, NR1, NR2 and NR3 (forms from memory).
  it.each([
    ['4702', '1'],
    ['+4702.1', '0.1'],
    ['+4.70213E+03', '0.01'],
    ['4.7e3', '100'],
    ['-1.5E-03', '0.0001'],
    [' .50 ', '0.01'],
    ['5.', '1'],
    ['1e0', '1'],
  ])('of %j is worth %s ohm', (raw, ohms) => expect(resolutionOfRaw(raw)).toBe(ohms));

  it.each(['', ' ', '.', 'OL', '4.7 kOhm', '1e', '1e999', '1,5'])('is not to be found in %j', (raw) =>
    expect(resolutionOfRaw(raw)).toBeNull(),
  );
});
