import { describe, expect, it } from 'vitest';
import { importPieces } from '../../../core/drift/importPieces.ts';

const read = (text: string) => importPieces(new TextEncoder().encode(text));

describe('a file of pieces', () => {
  it('is read by the names of its columns, in any order, with other columns beside them', () => {
    expect(read('at,Ohms, PIECE ,expanded_ohms\r\nMonday,99.950,1,0.02\r\nMonday,+1.0013E+02,B2,\r\n')).toEqual([
      { piece: '1', ohms: '99.950', expandedOhms: '0.02' },
      { piece: 'B2', ohms: '100.13', expandedOhms: null },
    ]);
  });

  it('takes a byte order mark, plain line feeds, quotes and empty lines at the end', () => {
    const values = read('\ufeffpiece,ohms\n"7, left",10\n008,11\n\n');
    expect(values.map(({ piece }) => piece)).toEqual(['7, left', '8']);
  });

  // ±9.9E37 is overload: SCPI-1999 volume 1, 7.2.1.4.
  it('takes what a meter sends of an open piece, or the word', () => {
    expect(read('piece,ohms\n1,9.9E37\n2,Open\n').map(({ ohms }) => ohms)).toEqual([null, null]);
  });

  it('takes a mark that was made safe for a spreadsheet as it was', () => {
    expect(read("piece,ohms\n'=A1,10\n")[0]?.piece).toBe('=A1');
  });

  it.each([
    ['', 'row 1: there is no column piece, ohms'],
    ['piece,value\n1,2', 'row 1: there is no column ohms'],
    ['piece,ohms,OHMS\n1,2,3', 'row 1: the column ohms is there twice'],
    ['piece,ohms\n', 'row 2: there are no pieces'],
    ['piece,ohms\n1,10\n,11', 'row 3: piece is empty'],
    ['piece,ohms\n1,10\n01,11', 'row 3: piece 1 stands in row 2 already'],
    ['piece,ohms\n1,4k7', 'row 2: ohms is "4k7"'],
    ['piece,ohms\n1,', 'row 2: ohms is ""'],
    ['piece,ohms\n1,"10,5"', 'row 2: ohms is "10,5"'],
    ['piece;ohms\n1;2\n', 'row 1: there is no column piece, ohms'],
    ['piece,ohms\n1,NaN', 'row 2: ohms is "NaN"'],
    ['piece,ohms\n1,10\n2,11\n01,12', 'row 4: piece 1 stands in row 2 already'],
    ['piece,ohms\n1,9.91E37', 'row 2: ohms is "9.91E37"'],
    ['piece,ohms,expanded_ohms\n1,10,-1', 'row 2: expanded_ohms is "-1"'],
    ['piece,ohms\n1,10,3', 'as CSV'],
    [`piece,ohms\n${'x'.repeat(101)},1`, 'row 2: piece is longer than 100 characters'],
  ])('refuses %j and says where', (text, why) => {
    expect(() => read(text)).toThrow(why);
    expect(() => read(text)).toThrow('[stress-file-unreadable]');
  });
});
