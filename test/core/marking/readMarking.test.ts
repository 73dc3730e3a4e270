import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Marked } from '../../../core/marking/marking.ts';
import { SERIES } from '../../../core/marking/preferred.ts';
import { readMarking } from '../../../core/marking/readMarking.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { decimalText } from '../../../core/quantity/decimal.ts';
import { LARGEST_OHMS } from '../../../core/quantity/parseOhms.ts';
import { sharedTable } from '../sampling/sharedTable.ts';

const first = (text: string) => readMarking(text)[0] as Marked;
/** `ohms scheme` of each meaning, with the tolerance where it is said. */
const meanings = (text: string) =>
  readMarking(text).map(({ ohms, scheme, tolerancePercent }) =>
    [ohms, scheme, ...(tolerancePercent === null ? [] : [`${tolerancePercent} %`])].join(' '),
  );
function refusal(text: string): Problem {
  try {
    readMarking(text);
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown;
    throw thrown;
  }
  throw new Error(`${text} was read`);
}

describe('letter-and-digit codes', () => {
  // IEC 60062; examples as listed by Wikipedia, "RKM code" (shared check values 1.3, source read).
  it.each([
    ['R47', '0.47'],
    ['4R7', '4.7'],
    ['470R', '470'],
    ['4K7', '4700'],
    ['47K', '47000'],
    ['47K3', '47300'],
    ['470K', '470000'],
    ['4M7', '4700000'],
  ])('%s is %s ohm and nothing else', (text, ohms) => {
    expect(readMarking(text)).toHaveLength(1);
    expect(first(text)).toMatchObject({ ohms, scheme: 'letter-code', tolerancePercent: null, ppmPerKelvin: null });
  });

  // The same code, from memory (shared check values 1.3 and 1.5); 12R0 from an instrument's manual, source read.
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
    ['0R22', '0.22'],
    ['12R0', '12'],
    ['4k7', '4700'],
    ['r47', '0.47'],
    ['R005', '0.005'],
  ])('%s is %s ohm', (text, ohms) => expect(first(text)).toMatchObject({ ohms, scheme: 'letter-code' }));

  // Letters of tolerance, IEC 60062:2016 (shared check values 1.2; D F G J source read, the rest from memory).
  it.each([
    ['E', '0.005'],
    ['L', '0.01'],
    ['P', '0.02'],
    ['W', '0.05'],
    ['B', '0.1'],
    ['C', '0.25'],
    ['D', '0.5'],
    ['F', '1'],
    ['G', '2'],
    ['H', '3'],
    ['J', '5'],
    ['K', '10'],
    ['M', '20'],
    ['N', '30'],
  ])('end in the letter %s for ±%s %%', (letter, tolerancePercent) => {
    for (const [code, ohms] of [
      ['4K7', '4700'],
      ['R47', '0.47'],
      ['470R', '470'],
      ['47K', '47000'],
      ['1M', '1000000'],
    ]) {
      expect(readMarking(`${code}${letter}`)).toEqual([expect.objectContaining({ ohms, tolerancePercent })]);
      expect(first(`${code} ${letter}`)).toMatchObject({ ohms, tolerancePercent });
      expect(first(`${code}${letter}`.toLowerCase().replace('m', 'M'))).toMatchObject({ ohms, tolerancePercent });
    }
  });

  // Letters of temperature coefficient, IEC 60062:2016, from memory.
  it.each([
    ['U', '250'],
    ['S', '100'],
    ['R', '50'],
    ['Q', '25'],
    ['P', '15'],
    ['M', '5'],
    ['K', '1'],
  ])('go on with the letter %s for %s ppm/K', (letter, ppmPerKelvin) =>
    expect(readMarking(`4K7F${letter}`)).toEqual([
      expect.objectContaining({ ohms: '4700', tolerancePercent: '1', ppmPerKelvin }),
    ]),
  );

  it('give no coefficient for a letter that lists disagree about, and say so', () => {
    const [read] = readMarking('4K7FZ');
    expect(read).toMatchObject({ tolerancePercent: '1', ppmPerKelvin: null });
    expect(read?.cautions.join()).toContain('20 and 10 ppm/K');
  });

  it('may say their tolerance in per cent', () => {
    expect(meanings('4K7 5 %')).toEqual(['4700 letter-code 5 %']);
    expect(meanings('4K7 ±0.1%')).toEqual(['4700 letter-code 0.1 %']);
    expect(meanings('R47+/-1%')).toEqual(['0.47 letter-code 1 %']);
  });

  it('of a small m are milli or mega', () => {
    expect(meanings('4m7')).toEqual(['0.0047 letter-code', '4700000 letter-code']);
    expect(meanings('47mJ')).toEqual(['0.047 letter-code 5 %', '47000000 letter-code 5 %']);
    expect(meanings('4M7')).toEqual(['4700000 letter-code']);
  });

  it.each([
    ['4K7X', 'X is no letter of a tolerance'],
    ['4K7S', 'S is a tolerance of capacitors, -20/+50 %'],
    ['4K7FX', 'X is no letter of a temperature coefficient'],
    ['01R5', 'does not begin with the figure 0'],
    ['1234K567', 'more than 6 figures'],
    ['0K', 'a value of 0 takes the letter R'],
    ['0RJ', 'a value of 0 takes the letter R and no tolerance'],
    ['R', 'the form of no code'],
    ['4K7K7', 'the form of no code'],
    ['4K7 0 %', 'a tolerance of 0 % is none'],
  ])('%s is refused: %s', (text, why) => {
    expect(refusal(text)).toMatchObject({ code: 'marking-unreadable', what: expect.stringContaining(why) });
  });

  it('come back from figures, letter and tolerance', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9999 }),
        fc.constantFrom(['R', 0], ['K', 3], ['M', 6], ['L', -3] as const),
        fc.nat(4),
        fc.constantFrom('', 'F', 'J', 'B'),
        (figures, [letter, power], place, tolerance) => {
          const digits = String(figures);
          const at = Math.min(place, digits.length);
          const code = `${digits.slice(0, at)}${letter}${digits.slice(at)}${tolerance}`;
          const expected = new Big(figures).times(`1e${Number(power) - (digits.length - at)}`);
          const codes = readMarking(code).filter(({ scheme }) => scheme === 'letter-code');
          expect(codes.map(({ ohms }) => ohms)).toEqual([expected.toFixed()]);
        },
      ),
      { numRuns: 2000 },
    ));
});

describe('chip codes of figures', () => {
  // Shared check values 1.5: an instrument's manual, ordering pages of a chip maker, Wikipedia "Resistor", an article; sources read.
  it.each([
    ['220', '22', 'three-digit'],
    ['102', '1000', 'three-digit'],
    ['103', '10000', 'three-digit'],
    ['472', '4700', 'three-digit'],
    ['681', '680', 'three-digit'],
    ['1001', '1000', 'four-digit'],
    ['4992', '49900', 'four-digit'],
    ['1000', '100', 'four-digit'],
  ])('%s is %s ohm first (%s)', (text, ohms, scheme) => expect(first(text)).toMatchObject({ ohms, scheme }));

  it('may be plain figures as well, and say neither tolerance nor coefficient', () => {
    expect(meanings('102')).toEqual(['1000 three-digit', '102 plain']);
    expect(meanings('1001')).toEqual(['1000 four-digit', '1001 plain']);
    expect(meanings('100')).toEqual(['10 three-digit', '100 plain']);
    expect(meanings('1000')).toEqual(['100 four-digit', '1000 plain']);
    expect(meanings('472 J')).toEqual(['4700 three-digit 5 %', '472 plain 5 %']);
    for (const { ppmPerKelvin } of readMarking('1001')) expect(ppmPerKelvin).toBeNull();
  });

  it('say how they were read, and what they do not say', () => {
    expect(first('1000').words).toBe('100 × 1, 0 zeros: 100 Ω');
    expect(first('472').words).toBe('47 × 100, 2 zeros: 4.7 kΩ');
    expect(first('472').cautions.join()).toContain('does not say the tolerance');
  });

  // From memory: lists for capacitors (EIA-198), followed by some resistors.
  it('ending in 8 or 9 have a second meaning, and say that it is rare', () => {
    expect(meanings('109')).toEqual(['10000000000 three-digit', '1 three-digit', '109 plain']);
    expect(meanings('478')).toEqual(['4700000000 three-digit', '0.47 three-digit', '478 plain']);
    expect(readMarking('109')[1]?.cautions.join()).toContain('rare on resistors');
  });

  it.each(['0', '000', '0000', '0R', '0R0', '0R00', 'R000'])('%s is a zero-ohm link', (text) =>
    expect(readMarking(text)).toEqual([
      expect.objectContaining({ ohms: '0', scheme: 'jumper', tolerancePercent: null, ppmPerKelvin: null }),
    ]),
  );

  it.each(['010', '0100', '00', '00000', '012'])('%s is refused', (text) =>
    expect(refusal(text).code).toBe('marking-unreadable'),
  );

  it('of every number from 100 to 9999 are figures times a power of ten', () => {
    for (let code = 100; code <= 9999; code += 1) {
      const text = String(code);
      const ohms = `${text.slice(0, -1)}${'0'.repeat(Number(text.at(-1)))}`;
      expect(first(text).ohms).toBe(ohms);
      expect(readMarking(text).at(-1)?.ohms ?? '').toMatch(new RegExp(`^(${text}|${ohms})$`));
    }
  });
});

describe('chip codes of EIA-96', () => {
  /** Powers of ten by letter: shared check values 1.5; X A B C D E source read, the others from memory of IEC 60062:2016. */
  const POWERS = { Z: -3, Y: -2, R: -2, X: -1, S: -1, A: 0, B: 1, H: 1, C: 2, D: 3, E: 4, F: 5 };

  const eia = (text: string) => readMarking(text).filter(({ scheme }) => scheme === 'eia-96');

  // Ordering pages of a chip maker, an article, an approval sheet of chip resistors: sources read; 01Y, 96F from memory.
  it.each([
    ['68C', '49900'],
    ['01B', '1000'],
    ['24C', '17400'],
    ['25X', '17.8'],
    ['25A', '178'],
    ['25B', '1780'],
    ['25C', '17800'],
    ['25D', '178000'],
    ['25E', '1780000'],
    ['01Y', '1'],
    ['96F', '97600000'],
    ['68c', '49900'],
  ])('%s is %s ohm of 1 %% and nothing else', (text, ohms) =>
    expect(readMarking(text)).toEqual([expect.objectContaining({ ohms, scheme: 'eia-96', tolerancePercent: '1' })]),
  );

  it('go through all numbers and letters, against the table where it is at hand', () => {
    const table = sharedTable('eia96-codes.csv');
    if (!table) return;
    expect(table).toHaveLength(96);
    for (const { code = '', significand = '' } of table) {
      for (const [letter, power] of Object.entries(POWERS)) {
        const ohms = new Big(significand).times(`1e${power}`).toFixed();
        const expected = [expect.objectContaining({ ohms, tolerancePercent: '1', ppmPerKelvin: null })];
        expect(eia(`${code}${letter}`), code + letter).toEqual(expected);
      }
    }
  });

  it('follow E96 in its order', () => {
    SERIES.E96.significands.forEach((significand, at) => {
      expect(eia(`${String(at + 1).padStart(2, '0')}A`)[0]?.ohms).toBe(String(significand));
    });
  });

  it('take no number but 01 to 96, and no other letter', () => {
    for (let number = 0; number <= 99; number += 1) {
      for (const letter of 'ABCDEFGHIJKLMNOPQRSTUVWXYZ') {
        const text = `${String(number).padStart(2, '0')}${letter}`;
        const valid = number >= 1 && number <= 96 && letter in POWERS;
        let codes: readonly Marked[] = [];
        try {
          codes = eia(text);
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Problem);
        }
        expect(codes.length, text).toBe(valid ? 1 : 0);
      }
    }
    expect(refusal('00A').what).toContain('01 to 96, and 00 is none');
    expect(refusal('97F').what).toContain('01 to 96, and 97 is none');
  });

  it('in R may be a letter-and-digit code as well, which is likelier', () => {
    expect(meanings('22R')).toEqual(['22 letter-code', '1.65 eia-96 1 %']);
    expect(meanings('01R')).toEqual(['1 eia-96 1 %']);
  });
});

describe('plain figures', () => {
  it.each([
    ['47', ['47 plain']],
    ['4.7', ['4.7 plain']],
    ['.47', ['0.47 plain']],
    ['4.7k', ['4700 plain']],
    ['4.7 kΩ', ['4700 plain']],
    ['4.7 k\u2126 5 %', ['4700 plain 5 %']],
    ['4.7m', ['0.0047 plain', '4700000 plain']],
    ['4.7 mΩ', ['0.0047 plain']],
    ['4.7MΩ J', ['4700000 plain 5 %']],
    ['220 ohm', ['220 plain']],
    ['10000', ['10000 plain']],
    ['47J', ['47 plain 5 %']],
    ['0.47 ±1 %', ['0.47 plain 1 %']],
  ])('%j are %j', (text, expected) => expect(meanings(text)).toEqual(expected));

  // A figure of the value must not become the tolerance.
  it.each(['15%', '1005%', '4K75%', '5 %', '0.5%'])('%s is refused', (text) =>
    expect(refusal(text).code).toBe('marking-unreadable'),
  );
});

describe('whatever is typed', () => {
  it.each([
    ['', 'there is nothing'],
    ['  ', 'there is nothing'],
    ['XX', 'the form of no code'],
    ['-47', 'the form of no code'],
    ['1e3', 'the form of no code'],
    ['4,7K', 'the form of no code'],
    ['brown black red', 'the form of no code'],
    ['9'.repeat(30), 'it is too long'],
    ['999999T', 'no part has so many ohms'],
    ['__proto__', 'the form of no code'],
  ])('%j is refused: %s', (text, why) => {
    expect(refusal(text)).toMatchObject({ code: 'marking-unreadable', what: expect.stringContaining(why) });
  });

  const anything = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 40 }),
    fc.string({ unit: fc.constantFrom(...'0123456789.RKMGTLJFBCDEXYZSHkmrΩ% ±+/-'), maxLength: 9 }),
  );

  it('is read with exact figures and words, or refused by a problem', () =>
    fc.assert(
      fc.property(anything, (text) => {
        let read: readonly Marked[];
        try {
          read = readMarking(text);
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Problem);
          return;
        }
        expect(read.length).toBeGreaterThan(0);
        for (const { ohms, tolerancePercent, ppmPerKelvin, words, cautions } of read) {
          for (const figures of [ohms, tolerancePercent ?? '1', ppmPerKelvin ?? '1']) decimalText.parse(figures);
          expect(new Big(ohms).toFixed()).toBe(ohms);
          expect(new Big(ohms).gte(0) && new Big(ohms).lte(LARGEST_OHMS)).toBe(true);
          expect(`${words} ${cautions.join(' ')}`).not.toMatch(/NaN|undefined|null/);
        }
        const said = read.map((one) => `${one.ohms} ${one.tolerancePercent} ${one.ppmPerKelvin}`);
        expect(new Set(said).size).toBe(said.length);
      }),
      { numRuns: 20_000 },
    ));

  it('reads the same in capitals and with blanks around, but for m', () =>
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789RKGTLJFBCDEXYZSH'), maxLength: 6 }), (text) => {
        const outcome = (typed: string) => {
          try {
            return readMarking(typed).map(({ words: _, ...rest }) => rest);
          } catch (thrown) {
            return (thrown as Problem).code;
          }
        };
        expect(outcome(` ${text.toLowerCase()} `)).toEqual(outcome(text));
      }),
      { numRuns: 5000 },
    ));
});
