import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COLOUR_NAMES, COLOURS } from '../../../core/marking/colour.ts';
import { readColours, withoutLastColour } from '../../../core/marking/readColours.ts';
import { Problem } from '../../../core/problem/problem.ts';

describe('colours as people type them', () => {
  it.each([
    ['brown black red gold', ['brown', 'black', 'red', 'gold']],
    ['  Brown,BLACK ; red - Gold ', ['brown', 'black', 'red', 'gold']],
    ['bn bk rd gd', ['brown', 'black', 'red', 'gold']],
    ['BNBKRDGD', ['brown', 'black', 'red', 'gold']],
    ['brown-black/rd|GD', ['brown', 'black', 'red', 'gold']],
    ['gray purple', ['grey', 'violet']],
    ['black', ['black']],
  ])('%j are read', (text, colours) => expect(readColours(text)).toEqual(colours));

  // IEC 60757, from memory.
  it('have their abbreviations', () => {
    const abbreviations = COLOUR_NAMES.map((name) => COLOURS[name].abbreviation);
    expect(abbreviations.join(' ')).toBe('BK BN RD OG YE GN BU VT GY WH GD SR PK');
    expect(abbreviations.flatMap((abbreviation) => readColours(abbreviation))).toEqual(COLOUR_NAMES);
    expect(readColours(abbreviations.slice(0, 12).join(''))).toEqual(COLOUR_NAMES.slice(0, 12));
  });

  it.each([
    ['', 'there is no colour'],
    ['   ', 'there is no colour'],
    ['-, -', 'there is no colour'],
    ['brown blck', '"blck" is no colour'],
    ['b b r g', '"b" is no colour'],
    ['turquoise', '"turquoise" is no colour'],
    ['bnb', '"bnb" is no colour'],
    ['constructor', '"constructor" is no colour'],
    ['red '.repeat(17), '17 colours are too many'],
    ['red '.repeat(100), 'it is too long'],
  ])('%j are refused', (text, why) => {
    try {
      readColours(text);
      expect.unreachable();
    } catch (thrown) {
      expect(thrown).toBeInstanceOf(Problem);
      expect(thrown).toMatchObject({ code: 'colours-unreadable', what: expect.stringContaining(why) });
    }
  });

  it('come back from their names and abbreviations in any mixture', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...COLOUR_NAMES), fc.boolean()), { minLength: 1, maxLength: 12 }),
        fc.constantFrom(' ', ', ', '-', '/'),
        (bands, between) => {
          const text = bands.map(([name, short]) => (short ? COLOURS[name].abbreviation : name)).join(between);
          expect(readColours(text)).toEqual(bands.map(([name]) => name));
        },
      ),
    ));

  it('are read or refused, whatever is typed', () =>
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 140 }), (text) => {
        try {
          expect(readColours(text).length).toBeGreaterThan(0);
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Problem);
        }
      }),
      { numRuns: 2000 },
    ));
});

describe('colours without the last', () => {
  it.each([
    ['brown black red gold', 'brown black red'],
    ['brown, black', 'brown'],
    ['brown', ''],
    ['', ''],
    // Joined abbreviations are bands of their own.
    ['BNBKRDGD', 'BNBKRD'],
    ['bnbk', 'bn'],
    ['bn', ''],
    ['brown/BKRD', 'brown/BK'],
    // What stands behind the last one goes with it.
    ['brown, black, ', 'brown'],
    ['brown - ', ''],
    // What is no colour yet is taken off as it was typed.
    ['brown bla', 'brown'],
    ['bnbx', ''],
    ['brown bnb', 'brown'],
  ])('of %j are %j', (typed, left) => expect(withoutLastColour(typed)).toBe(left));

  it('are one less, however they are written', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...COLOUR_NAMES), fc.constantFrom('name', 'short', 'joined')), {
          minLength: 2,
          maxLength: 12,
        }),
        (bands) => {
          const text = bands.reduce((before, [name, how]) => {
            if (how === 'name') return `${before} ${name}`;
            return `${before}${how === 'short' ? ' ' : ''}${COLOURS[name].abbreviation}`;
          }, '');
          fc.pre(isReadable(text));
          expect(readColours(withoutLastColour(text))).toEqual(readColours(text).slice(0, -1));
        },
      ),
      { numRuns: 1000 },
    ));
});

/** Names and abbreviations that run into each other are no colours, and some name no band at all. */
function isReadable(text: string): boolean {
  try {
    return readColours(text).length > 1;
  } catch {
    return false;
  }
}
