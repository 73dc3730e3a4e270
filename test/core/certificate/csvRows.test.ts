import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvRows } from '../../../core/certificate/csvRows.ts';
import { inMemory } from '../../../core/certificate/fileBytes.ts';
import { lineOf } from '../../../core/certificate/form.ts';
import { bytesOf } from './files.ts';

const rowsOf = (text: string, separator = ',') => {
  const bytes = bytesOf(text);
  return [...csvRows(inMemory(bytes), 0, bytes.length, separator)];
};

const cell = fc.oneof(
  fc.constantFrom('', ',', ';', '"', '\n', '\r', 'a\r\nb', 'Ω ± µ', '🙂'),
  fc.string({ maxLength: 12 }),
);

describe('rows of a file', () => {
  it('are those that another program reads, whatever is in them, wherever a block ends (property)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 60 }),
        fc.nat(70_000),
        fc.constantFrom('dot' as const, 'comma' as const),
        (rows, long, form) => {
          const filled = [['x'.repeat(long), '', ''], ...rows, ['y'.repeat(long), '"', '']];
          const text = filled.map((cells) => lineOf(cells, form, [false, false, false])).join('');
          const delimiter = form === 'dot' ? ',' : ';';
          expect(rowsOf(text, delimiter)).toEqual(filled);
          expect(parse(text, { delimiter, recordDelimiter: '\r\n' })).toEqual(filled);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('are written as a library writes them, where no cell has a line end by itself', () => {
    const rows = [
      ['a', 'b, c', '"d"'],
      ['', 'e\r\nf', 'ü'],
    ];
    expect(rows.map((cells) => lineOf(cells, 'dot', [])).join('')).toBe(
      stringify(rows, { record_delimiter: 'windows' }),
    );
  });

  it.each([
    ['no end of the last row', 'a,b\r\nc,d'],
    ['a quote that is not closed', 'a,"b\r\nc,d\r\n'],
    ['a quote inside a cell', 'a,b"c"\r\n'],
  ])('are none with %s', (_, text) => {
    expect(() => rowsOf(text)).toThrow();
  });

  it('are none where a row never ends, and not all of it is gathered first', () => {
    let asked = 0;
    const endless = {
      size: 2 ** 40,
      slice: (from: number, to: number) => {
        asked = to;
        return new Uint8Array(to - from).fill(0x61);
      },
    };
    expect(() => [...csvRows(endless, 0, endless.size, ',')]).toThrow('has no end');
    expect(asked).toBeLessThan(2_000_000);
  });
});
