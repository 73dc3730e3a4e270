import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalText, plain } from '../../../core/quantity/decimal.ts';
import { formatOhms } from '../../../core/quantity/formatOhms.ts';
import { parseOhms } from '../../../core/quantity/parseOhms.ts';

const read = (text: string) => plain(parseOhms(text));

describe('a resistance as people and markings write it', () => {
  // IEC 60062, letter and digit code. Examples as listed by Wikipedia, "RKM code", citing IEC 60062 (source read).
  it.each([
    ['R47', '0.47'],
    ['4R7', '4.7'],
    ['470R', '470'],
    ['4K7', '4700'],
    ['47K', '47000'],
    ['47K3', '47300'],
    ['470K', '470000'],
    ['4M7', '4700000'],
  ])('reads the code %s as %s ohm', (text, ohms) => expect(read(text)).toBe(ohms));

  // More of the same code (IEC 60062, from memory; L is the milliohm).
  it.each([
    ['R10', '0.1'],
    ['R332', '0.332'],
    ['59R04', '59.04'],
    ['590R4', '590.4'],
    ['5K904', '5904'],
    ['3M32', '3320000'],
    ['3M3', '3300000'],
    ['1G', '1000000000'],
    ['1T', '1000000000000'],
    ['L47', '0.00047'],
    ['4L7', '0.0047'],
    ['0R', '0'],
    ['0R47', '0.47'],
  ])('reads the code %s as %s ohm', (text, ohms) => expect(read(text)).toBe(ohms));

  // Common practice: SI prefixes (SI Brochure, 9th edition, table 7: m is milli, k kilo, M mega, G giga, T tera).
  it.each([
    ['4k7', '4700'],
    ['4.7k', '4700'],
    ['4.7 k', '4700'],
    ['220', '220'],
    ['4700 ohm', '4700'],
    ['4700ohms', '4700'],
    ['1 Ohm', '1'],
    ['1e3', '1000'],
    ['1E3 Ω', '1000'],
    ['1.5e-3', '0.0015'],
    ['3.3 MΩ', '3300000'],
    ['3.3 mΩ', '0.0033'],
    ['3.3 M\u2126', '3300000'],
    ['4m7', '0.0047'],
    ['470R Ω', '470'],
    ['4k7 Ohm', '4700'],
    ['4K7OHM', '4700'],
    ['4.7R', '4.7'],
    ['0.47 R', '0.47'],
    ['220.5r', '220.5'],
    ['  47  ', '47'],
    ['.5', '0.5'],
    ['5.', '5'],
    ['0', '0'],
    ['0.10', '0.1'],
    ['8.2', '8.2'],
  ])('reads %j as %s ohm', (text, ohms) => expect(read(text)).toBe(ohms));

  it.each([
    '',
    ' ',
    'R',
    'k',
    '4,7k',
    '1,000',
    '4.7kR',
    '4.7R5',
    '4.7R k',
    '4k7k',
    '4.7k7',
    '4 7',
    '-5',
    '+5',
    '1e',
    '1e+',
    '0x10',
    'NaN',
    'Infinity',
    '∞',
    '4.7 kHz',
    '1.2.3',
    '10 µ',
    'four',
    '4k7\n4k7',
    '٤٧',
    '1'.repeat(60),
  ])('refuses %j and says how to write it', (text) => {
    expect(() => parseOhms(text)).toThrowError(
      expect.objectContaining({ code: 'resistance-unreadable', toDo: expect.stringContaining('4k7') }),
    );
  });

  it.each(['1e99', '1e-99', '9e18', '1e-30', '0.000000000000000000000000001'])(
    'refuses %s, which no meter and no record could hold',
    (text) => expect(() => parseOhms(text)).toThrowError(expect.objectContaining({ code: 'resistance-unreadable' })),
  );

  it('gives a value that the record can hold for whatever it takes (property)', () => {
    const typed = fc.stringMatching(/^\d{0,20}\.?\d{0,20}([eE][+-]?\d{1,2})? ?[mkMGT]?$/);
    fc.assert(
      fc.property(typed, (text) => {
        let ohms: string;
        try {
          ohms = read(text);
        } catch {
          return;
        }
        expect(decimalText.safeParse(ohms).success).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  it('reads back exactly what is shown (property)', () => {
    fc.assert(
      fc.property(fc.bigInt(0n, 10n ** 12n), fc.nat(9), (digits, places) => {
        const padded = String(digits).padStart(places + 1, '0');
        const cut = padded.length - places;
        const ohms = plain(parseOhms(`${padded.slice(0, cut)}.${padded.slice(cut) || '0'}`));
        expect(read(formatOhms(ohms))).toBe(ohms);
      }),
    );
  });
});
