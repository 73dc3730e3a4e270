import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isMeterNumber, meterNumber } from '../../../core/quantity/meterNumber.ts';

const PARTS_OF_NUMBERS = ['+', '-', ' ', '.', 'e', 'E', '0', '1', '9', '37', '9.9E37', '9.91E37', '9.92E37', '99'];

describe('the number in a meter text', () => {
  // IEEE 488.2 8.7.2 NR1, 8.7.3 NR2, 8.7.4 NR3 (forms from memory).
  it.each([
    ['4702', '4702'],
    ['+4702.10', '4702.10'],
    ['+4.70213E+03', '4702.13'],
    ['+4.70000E+03', '4700.00'],
    ['4.7e3', '4700'],
    ['-1.5E-03', '-0.0015'],
    ['-0.00', '0.00'],
    [' 5. ', '5'],
  ])('of %j is %s, with all its digits', (raw, text) => expect(meterNumber(raw)).toEqual({ kind: 'value', text }));

  // SCPI-1999 volume 1, 7.2.1.4 (infinity 9.9E37) and 7.2.1.5 (not a number 9.91E37).
  it.each([
    ['9.9E37', 'overload'],
    ['-9.90000000E+37', 'overload'],
    ['+9.91E+37', 'not-a-number'],
  ])('%j is %s by its value', (raw, kind) => expect(meterNumber(raw)).toEqual({ kind }));

  it.each([
    '',
    '.',
    'OL',
    '1 2',
    '1;2',
    '1,5',
    '4700 OHM',
    '1e',
    '1e999',
    '1e-61',
    '1e100',
    '9.92E37',
    '\t5',
    "'5",
    '--5',
  ])('there is none in %j', (raw) => expect(meterNumber(raw)).toBeNull());

  it('is the exact value (property)', () => {
    const digits = (from: number, to: number) => fc.stringMatching(new RegExp(`^\\d{${from},${to}}$`));
    fc.assert(
      fc.property(digits(1, 9), digits(0, 9), fc.integer({ min: -30, max: 20 }), (whole, fraction, exponent) => {
        const number = meterNumber(`+${whole}.${fraction}E${exponent}`);
        if (number?.kind !== 'value') throw new Error('no value');
        // the text times 10^60 in whole numbers, without any decimal library
        const [integer = '', decimals = ''] = number.text.split('.');
        const read = BigInt(integer + decimals.padEnd(60, '0'));
        expect(read).toBe(BigInt(whole + fraction) * 10n ** BigInt(60 + exponent - fraction.length));
        expect(decimals).toHaveLength(Math.max(0, fraction.length - exponent));
      }),
    );
  });

  it('is told without being read (property)', () => {
    const partOfOne = fc.constantFrom(...PARTS_OF_NUMBERS);
    const nearlyOne = fc.array(partOfOne, { maxLength: 40 }).map((parts) => parts.join(''));
    fc.assert(
      fc.property(fc.oneof(nearlyOne, fc.string()), (raw) => isMeterNumber(raw) === (meterNumber(raw) !== null)),
      { numRuns: 2000 },
    );
  });
});
