import { describe, expect, it } from 'vitest';
import { badRows, importWords, type Preview, previewWords, rowsToImport } from '../../renderer/parts/importDraft.ts';
import { planWords, valueWords } from '../../renderer/parts/partWords.ts';

const preview = (over: Partial<Preview>): Preview => ({
  added: [],
  replaced: [],
  odd: [],
  same: 0,
  bad: [],
  unread: [],
  version: 'v',
  ...over,
});
/** Numbers and their nouns stay together on a line. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const plainImport = (...asked: Parameters<typeof importWords>) => plain(importWords(...asked));
const bad = (row: number, column: string) => ({ row, column, value: '', why: 'is empty' });
const replaced = [{ row: 4, number: 'P', changes: [] }];
const added = [
  { row: 2, number: 'A', nominal: '1k', tolerance: '1 %' },
  { row: 3, number: 'B', nominal: '', tolerance: '<= 1' },
];

describe('the preview of a file of parts', () => {
  it.each([
    [preview({}), 'The file holds nothing.'],
    [preview({ added: added.slice(1) }), 'The file holds 1 new part.'],
    [preview({ added, same: 1 }), 'The file holds 2 new parts and 1 part as the list has it already.'],
    [
      preview({ added, replaced, same: 2, bad: [bad(5, 'part'), bad(5, 'tolerance')] }),
      'The file holds 2 new parts, 1 part that replaces one, 2 parts as the list has them already and 1 row that is wrong.',
    ],
  ])('says %o in a sentence', (found, words) => {
    expect(plain(previewWords(found))).toBe(words);
  });

  it('imports the good rows that change something, and replaces only where that is wanted', () => {
    const found = preview({ added, replaced, same: 3, bad: [bad(9, 'part')] });
    expect(rowsToImport(found, true)).toEqual([2, 3, 4]);
    expect(rowsToImport(found, false)).toEqual([2, 3]);
    expect(plainImport(found, true)).toBe('Import 2 parts and replace 1 other');
    expect(plainImport(found, false)).toBe('Import 2 parts');
    expect(plainImport(preview({ replaced }), true)).toBe('Replace 1 part');
    expect(plainImport(preview({ replaced }), false)).toBe('Nothing to import');
    expect(badRows(preview({ bad: [bad(5, 'part'), bad(5, 'aql'), bad(6, 'part')] }))).toBe(2);
  });
});

it('says the value and plan of a part in a few words', () => {
  expect(valueWords({ number: 'P', nominal: '4k7', tolerance: '1 %' })).toBe('4k7, 1 %');
  expect(valueWords({ number: 'P', tolerance: '>= 1M' })).toBe('>= 1M');
  expect(planWords({ number: 'P', tolerance: '1 %' })).toBe('AQL 1.0, level II');
  expect(planWords({ number: 'P', tolerance: '1 %', plan: { aql: '0.65', level: 'S-3' } })).toBe('AQL 0.65, level S-3');
  expect(planWords({ number: 'P', tolerance: '1 %', plan: { sampleSize: 20, accept: 0 } })).toBe(
    '20 pieces, none accepted',
  );
});
