import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importStudy } from '../../../core/study/importStudy.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const imported = (text: string) => importStudy(bytes(text));

describe('readings from a file', () => {
  it('of a crossed study', () => {
    expect(imported('piece,operator,repeat,ohms\r\n1,Ana,1,4701.50\r\n1,Ben,1,+4.7020E+03\r\n')).toEqual({
      design: 'crossed',
      readings: [
        { piece: '1', operator: 'Ana', repeat: 1, ohms: '4701.50' },
        { piece: '1', operator: 'Ben', repeat: 1, ohms: '4702.0' },
      ],
    });
  });

  it('of a single-operator study, with and without runs', () => {
    const reading = { piece: 'R7', run: 1, session: 2, repeat: 3, ohms: '0.4701' };
    expect(imported('piece,session,repeat,ohms\nR7,2,3,0.4701')).toEqual({ design: 'single', readings: [reading] });
    expect(imported('run,piece,session,repeat,ohms\n2,R7,2,3,0.4701')).toEqual({
      design: 'single',
      readings: [{ ...reading, run: 2 }],
    });
  });

  it('whatever the case and order of columns, line ends and mark in front', () => {
    const wanted = imported('piece,operator,repeat,ohms\r\n1,Ana,1,4701\r\n');
    expect(imported('\ufeffOhms,REPEAT, Operator ,Piece\n4701,1,Ana,1\n\n')).toEqual(wanted);
    expect(imported('"piece","operator","repeat","ohms"\r\n"1","Ana","1","4701"')).toEqual(wanted);
  });

  it.each([
    ['', 'row 1', 'no column piece, session, repeat, ohms'],
    ['piece,operator,repeat\n1,Ana,1', 'row 1', 'no column ohms'],
    ['piece;operator;repeat;ohms\n1;Ana;1;2', 'row 1', 'no column'],
    ['piece,operator,repeat,ohms,volts\n1,Ana,1,2,3', 'row 1', '"volts" is not one of'],
    ['piece,operator,repeat,ohms,session\n1,Ana,1,2,3', 'row 1', '"session" is not one of'],
    ['piece,operator,repeat,ohms,OHMS\n1,Ana,1,2,3', 'row 1', 'ohms is there twice'],
    ['piece,operator,repeat,ohms\n', 'row 2', 'no readings'],
    ['piece,operator,repeat,ohms\n1,Ana,1,4701\n,Ana,2,4701', 'row 3', 'piece is empty'],
    ['piece,operator,repeat,ohms\n1, ,1,4701', 'row 2', 'operator is empty'],
    ['piece,operator,repeat,ohms\n1,Ana,0,4701', 'row 2', 'repeat is "0"'],
    ['piece,operator,repeat,ohms\n1,Ana,1.5,4701', 'row 2', 'repeat is "1\\.5"'],
    ['piece,operator,repeat,ohms\n1,Ana,1,4k7', 'row 2', 'ohms is "4k7"'],
    ['piece,operator,repeat,ohms\n1,Ana,1,"4701,5"', 'row 2', 'ohms is "4701,5"'],
    ['piece,operator,repeat,ohms\n1,Ana,1,', 'row 2', 'ohms is ""'],
    ['piece,operator,repeat,ohms\n1,Ana,1,9.9E37', 'row 2', 'overload'],
    ['piece,session,repeat,ohms\n1,x,1,4701', 'row 2', 'session is "x"'],
  ])('is refused naming the row: %j', (text, where, why) => {
    const refused = expect.objectContaining({
      code: 'study-file-unreadable',
      what: expect.stringMatching(new RegExp(`${where}: .*${why}`)),
    });
    expect(() => imported(text)).toThrowError(refused);
  });

  it('is refused where a row lacks cells, naming the line', () => {
    expect(() => imported('piece,operator,repeat,ohms\n1,Ana,1,4701\n1,Ana,2')).toThrowError(/as CSV: .*line 3/);
  });

  it('is refused where it is far too large', () => {
    const row = '1,Ana,1,4701\n';
    expect(() => imported(`piece,operator,repeat,ohms\n${row.repeat(10_001)}`)).toThrowError(
      /more than 10000 readings/,
    );
    expect(() => importStudy(new Uint8Array(5_000_001))).toThrowError(/larger than/);
  });

  it('never fails in another way (property)', () => {
    fc.assert(
      fc.property(fc.oneof(fc.uint8Array({ maxLength: 200 }), fc.string({ unit: 'grapheme' }).map(bytes)), (file) => {
        expect(() => importStudy(file)).toThrowError(expect.objectContaining({ code: 'study-file-unreadable' }));
      }),
    );
  });
});
