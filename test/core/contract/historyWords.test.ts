import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { historyFilters } from '../../../core/contract/history.ts';
import {
  filtersOf,
  HISTORY_WORDS,
  type HistoryWords,
  historyWords,
  saidOf,
} from '../../../core/contract/historyWords.ts';

/** One line of text as it is kept: trimmed, not empty, without control characters. */
const line = fc
  .string({ unit: 'grapheme', minLength: 1, maxLength: 30 })
  .map((text) => text.trim())
  .filter((text) => text !== '' && !/[\p{Cc}\u2028\u2029]/u.test(text));
const day = fc
  .date({ min: new Date('1990-01-01T00:00:00Z'), max: new Date('2100-01-01T00:00:00Z'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
const among = fc.constantFrom('without', 'only');

/** Anything that can be looked for; what is usual is not said. */
const anyWords = fc.record(
  {
    text: line,
    part: line,
    supplier: line,
    lot: line,
    inspector: line,
    from: day,
    to: day,
    disposition: fc.constantFrom('accepted', 'not-accepted', 'on-hold', 'studied', 'undecided'),
    practice: among,
    studies: among,
    order: fc.constant('earliest-first'),
  },
  { requiredKeys: [] },
) as fc.Arbitrary<HistoryWords>;

describe('what is looked for in the history, in words', () => {
  it('reads back what it was written as, through an address as well', () => {
    fc.assert(
      fc.property(anyWords, (words) => {
        const address = new URLSearchParams(saidOf(words)).toString();
        expect(historyWords(new URLSearchParams(address))).toEqual({ words, leftOut: [] });
        expect(historyFilters.parse(filtersOf(words))).toEqual(filtersOf(words));
      }),
    );
  });

  it('leaves out what means nothing and says so, whatever an address says', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.oneof(fc.string(), fc.constantFrom(...HISTORY_WORDS)), fc.string())), (said) => {
        const { words, leftOut } = historyWords(said);
        for (const note of leftOut) expect(note).toMatch(/^“.*” .*was left out.*\.$/s);
        // What is left means the same when it is read again.
        expect(historyWords(saidOf(words))).toEqual({ words, leftOut: [] });
        expect(historyFilters.safeParse(filtersOf(words)).success).toBe(true);
      }),
    );
    const { words, leftOut } = historyWords([
      ['colour', 'red'],
      ['part', ' TF-4K7-1 '],
      ['from', '2026-02-30'],
      ['disposition', 'perhaps'],
      ['supplier', ' '],
    ]);
    expect(words).toEqual({ part: 'TF-4K7-1' });
    expect(leftOut).toEqual([
      '“colour” is no filter here and was left out.',
      '“from” was left out: “2026-02-30” must be a day like 2026-03-02.',
      '“disposition” was left out: “perhaps” is none of accepted, not-accepted, on-hold, studied, undecided.',
    ]);
  });

  it('keeps off what is usual, and takes the later of two', () => {
    const usual = { practice: 'with', studies: 'with', order: 'latest-first' } as const;
    expect(saidOf(usual)).toEqual([]);
    expect(filtersOf(usual)).toEqual({ order: 'latest-first' });
    const twice = [
      ['practice', 'only'],
      ['practice', 'with'],
      ['part', 'A'],
      ['part', 'B'],
    ] as const;
    expect(historyWords(twice).words).toEqual({ part: 'B' });
    expect(filtersOf({ practice: 'without', studies: 'only' })).toMatchObject({ practice: false, study: true });
  });
});
