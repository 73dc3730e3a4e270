import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FASTEST_HANDS_MILLISECONDS, type KeyDown, NOTHING_QUICK, takeKey } from '../../renderer/keys/scan.ts';
import { afterScan, firstEmpty } from '../../renderer/receive/scanTarget.ts';

/** What is heard of these keys, each so many milliseconds after the one before. */
function heard(keys: readonly (readonly [key: string, after: number, byHand?: boolean])[]): string[] {
  let quick = NOTHING_QUICK;
  let at = 1000;
  const scans: string[] = [];
  for (const [key, after, byHand = false] of keys) {
    at += after;
    const down: KeyDown = { key, at, byHand };
    const taken = takeKey(quick, down);
    quick = taken.quick;
    if (taken.scanned !== null) scans.push(taken.scanned);
  }
  return scans;
}

const keysOf = (text: string, each: number, end: string) =>
  [...text, end].map((key) => [key, each] as [string, number]);

describe('a scanner that acts as a keyboard', () => {
  it('is told from hands by its speed, whatever it reads (property)', () => {
    const code = fc
      .string({ unit: 'grapheme-ascii', minLength: 3, maxLength: 40 })
      .filter((text) => text.trim() !== '');
    const speed = fc.integer({ min: 0, max: FASTEST_HANDS_MILLISECONDS - 1 });
    fc.assert(
      fc.property(code, speed, fc.constantFrom('Enter', 'Tab'), (text, each, end) => {
        expect(heard(keysOf(text, each, end))).toEqual([text.trim()]);
        expect(heard(keysOf(text, FASTEST_HANDS_MILLISECONDS + each, end))).toEqual([]);
      }),
    );
  });

  it.each([
    ['two characters', keysOf('ab', 5, 'Enter'), []],
    // Reels are numbered shortly, too; by hand nobody is so quick three times and once more for the end.
    ['three characters', keysOf('017', 5, 'Enter'), ['017']],
    ['no end', [...'abcdef'].map((key) => [key, 5] as [string, number]), []],
    ['an end by hand', [...keysOf('abcdef', 5, 'x').slice(0, -1), ['Enter', 200] as [string, number]], []],
    [
      'a slow first letter before it',
      [['z', 500] as [string, number], ...keysOf('abcd', 5, 'Tab').with(0, ['a', 300])],
      ['abcd'],
    ],
    [
      'capitals by Shift',
      keysOf('A', 5, '')
        .slice(0, 0)
        .concat([
          ['Shift', 5],
          ['A', 5],
          ['Shift', 5],
          ['B', 5],
          ['1', 5],
          ['2', 5],
          ['Enter', 5],
        ]),
      ['AB12'],
    ],
    [
      'a key that is held down',
      [
        ['a', 500],
        ['a', 30, true],
        ['a', 30, true],
        ['a', 30, true],
        ['Enter', 30],
      ] as [string, number, boolean?][],
      [],
    ],
    [
      'an arrow within it',
      [
        ['a', 5],
        ['b', 5],
        ['ArrowLeft', 5],
        ['c', 5],
        ['d', 5],
        ['Enter', 5],
      ] as [string, number][],
      [],
    ],
    ['blanks only', keysOf('    ', 5, 'Enter'), []],
    ['one after the other', [...keysOf('L-2093', 5, 'Enter'), ...keysOf('R-0017', 5, 'Tab')], ['L-2093', 'R-0017']],
  ])('%s', (_what, keys, scans) => {
    expect(heard(keys)).toEqual(scans);
  });
});

describe('the end of a scan', () => {
  /** Which keys were an end that must do nothing else, each so many milliseconds after the one before. */
  function ends(...keys: readonly (readonly [key: string, after: number])[]): string[] {
    let quick = NOTHING_QUICK;
    let at = 1000;
    return keys.flatMap(([key, after]) => {
      at += after;
      const taken = takeKey(quick, { key, at, byHand: false });
      quick = taken.quick;
      return taken.isEnd ? [key] : [];
    });
  }
  const code = [...'L-2093'].map((key) => [key, 5] as const);

  it.each(['Enter', 'Tab'])(
    'is the %s behind it and whatever follows as quickly, as of scanners that send two',
    (first) => {
      // The second Enter received the lot.
      expect(ends(...code, [first, 5], ['Enter', 5])).toEqual([first, 'Enter']);
      expect(ends(...code, [first, 5], ['Tab', 5], ['Enter', 5])).toEqual([first, 'Tab', 'Enter']);
    },
  );

  it('is none that hands press afterwards, nor one behind a key of theirs', () => {
    expect(ends(...code, ['Enter', 5], ['Enter', 200])).toEqual(['Enter']);
    expect(ends(['Enter', 5], ['Enter', 5])).toEqual([]);
    expect(ends(...code, ['Enter', 5], ['x', 5], ['Enter', 5])).toEqual(['Enter']);
  });
});

describe('where a scan goes', () => {
  const draft = (partNumber: string, lotNumber: string, reel: string) => ({ partNumber, lotNumber, reel });
  it('goes into the first of part, lot and reel that is empty', () => {
    expect(firstEmpty(draft('', '', ''))).toBe('partNumber');
    expect(firstEmpty(draft('P', ' ', 'R'))).toBe('lotNumber');
    expect(firstEmpty(draft('P', 'L', ''))).toBe('reel');
    expect(firstEmpty(draft('P', 'L', 'R'))).toBeNull();
  });
  it('leads from one of them to the next that is empty, and from any other as Tab does', () => {
    expect(afterScan('reel', draft('', 'L', 'R'))).toBe('partNumber');
    expect(afterScan('partNumber', draft('P', 'L', 'R'))).toBeNull();
    expect(afterScan('description', draft('', '', ''))).toBeNull();
  });
});
