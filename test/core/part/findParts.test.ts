import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findParts, indexParts, partNumbered } from '../../../core/part/findParts.ts';
import type { PartInput } from '../../../core/part/part.ts';
import { anyParts } from './anyPart.ts';

const PARTS: PartInput[] = [
  { number: 'CF-4K7-5', description: 'carbon film', nominal: '4k7', tolerance: '5 %', supplier: 'Example Supply' },
  { number: 'TF-10K-1', description: 'thin film for 4.7 V', nominal: '10k', tolerance: '1 %', supplier: 'Övre AB' },
  { number: 'TF-4K7-1', description: 'thin film', nominal: '4700 ohm', tolerance: '1 %', reference: 'R-5k' },
  { number: '4K7', description: 'bulk', nominal: '4.7k', tolerance: '10 %' },
  { number: 'HV-3M3', nominal: '3M3', tolerance: '5 %' },
  { number: 'SH-3L3', nominal: '3m3', tolerance: '1 %' },
];
const index = indexParts(PARTS);
const find = (typed: string) => findParts(index, typed, 20).first.map(({ number }) => number);

describe('finding a part by typing', () => {
  it.each([
    ['', ['CF-4K7-5', 'TF-10K-1', 'TF-4K7-1', '4K7', 'HV-3M3', 'SH-3L3'], 'everything'],
    ['4k7', ['4K7', 'CF-4K7-5', 'TF-4K7-1'], 'just so first, then where the number holds it'],
    ['4.7k', ['CF-4K7-5', 'TF-4K7-1', '4K7'].toSorted(), 'by value, with a prefix'],
    ['4700', ['TF-4K7-1', 'CF-4K7-5', '4K7'].toSorted(), 'by value, however it is written'],
    ['4700 ohm', ['TF-4K7-1', 'CF-4K7-5', '4K7'].toSorted(), 'a value with its unit'],
    ['4.7 k', ['CF-4K7-5', 'TF-4K7-1', '4K7'].toSorted(), 'a value in two words'],
    ['tf4k71', ['TF-4K7-1'], 'without its dashes'],
    ['tf-', ['TF-10K-1', 'TF-4K7-1'], 'numbers that begin so'],
    ['film 5 %', ['CF-4K7-5'], 'every word must be there'],
    ['supply', ['CF-4K7-5'], 'by supplier'],
    ['r-5k', ['TF-4K7-1'], 'by reference'],
    ['övre', ['TF-10K-1'], 'capitals of any alphabet'],
    ['O\u0308VRE', ['TF-10K-1'], 'letters composed otherwise'],
    ['3M3', ['HV-3M3', 'SH-3L3'], 'the value by its capital first, then the same letters'],
    ['3300000', ['HV-3M3'], 'mega in ohms'],
    ['0.0033', ['SH-3L3'], 'milli in ohms'],
    ['nothing like it', [], 'none'],
  ])('%j finds %j: %s', (typed, numbers) => {
    const found = find(typed);
    expect(/^\d/.test(typed) && typed !== '4k7' ? found.toSorted() : found).toEqual(numbers);
  });

  it('says how many there are beyond those that are shown', () => {
    expect(findParts(index, 'tf', 1)).toEqual({ first: [PARTS[1]], count: 2 });
    expect(findParts(index, '', 2)).toMatchObject({ count: 6 });
  });

  it('finds every part by its number, by the beginning of it and by its description (property)', () => {
    fc.assert(
      fc.property(anyParts, (parts) => {
        const all = indexParts(parts);
        for (const part of parts) {
          expect(findParts(all, part.number, 50).first).toContainEqual(part);
          const [first = '', second = ''] = part.number;
          // Letters that are whole by themselves, and not half of another.
          const begins = (first + second).normalize('NFKC').toLowerCase();
          if (part.number.normalize('NFKC').toLowerCase().startsWith(begins)) {
            expect(findParts(all, first + second, 50).first).toContainEqual(part);
          }
          if (part.description !== '') expect(findParts(all, part.description, 50).first).toContainEqual(part);
          expect(partNumbered(all, ` ${part.number} `)).toEqual(part);
        }
      }),
    );
  });

  it('takes a scanned number for one part only', () => {
    const two = indexParts([
      PARTS[3] as PartInput,
      { number: '4k7', tolerance: '>= 1k' },
      { number: 'X', tolerance: '<= 1' },
    ]);
    expect(partNumbered(two, '4K7')?.tolerance).toBe('10 %');
    expect(partNumbered(two, '4k7')?.tolerance).toBe('>= 1k');
    expect(partNumbered(two, 'x')?.number).toBe('X');
    expect(partNumbered(two, '')).toBeNull();
    expect(partNumbered(two, '4')).toBeNull();
    // Where only capitals tell two parts apart, neither is guessed.
    const alike = indexParts([
      { number: 'ab', tolerance: '<= 1' },
      { number: 'AB', tolerance: '<= 2' },
    ]);
    expect(partNumbered(alike, 'Ab')).toBeNull();
  });

  it('stays quick with 20 000 parts', () => {
    const parts = Array.from({ length: 20_000 }, (_, at) => ({
      number: `TF-${1000 + at}-F`,
      description: `thin film, drawer ${at % 97}`,
      nominal: `${100 + (at % 900)}${'RkM'[at % 3]}`,
      tolerance: '1 %',
      supplier: 'Example Supply',
    }));
    const began = performance.now();
    const many = indexParts(parts);
    const indexed = performance.now() - began;
    const typed = ['t', 'tf', 'tf-1', 'tf-12', 'film', 'film 97', '470k', 'zzz', 'tf-12345-f', 'drawer 9 supply'];
    const timeOf = (text: string) => {
      const at = performance.now();
      findParts(many, text, 50);
      return performance.now() - at;
    };
    // The quickest of a few: what a busy machine takes away from one is not ours.
    const times = typed.map((text) => Math.min(...Array.from({ length: 5 }, () => timeOf(text))));
    console.info(
      `20 000 parts: ready in ${indexed.toFixed(0)} ms, found in ${Math.max(...times).toFixed(1)} ms at most`,
    );
    // A key is answered within a frame or two; the limits are wide, since other tests run beside this one.
    expect(indexed).toBeLessThan(3000);
    expect(Math.max(...times)).toBeLessThan(200);
  });
});
