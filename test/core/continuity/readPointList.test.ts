import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { previewPoints } from '../../../core/continuity/continuityClaim.ts';
import { MOST_LISTED } from '../../../core/continuity/point.ts';
import { readPointList } from '../../../core/continuity/readPointList.ts';
import { Problem } from '../../../core/problem/problem.ts';

describe('a list of points', () => {
  it('is read with columns in any order and case, a byte order mark, semicolons, quotes and blank rows', () => {
    const csv =
      '\ufeffNote;TO;From;Expected;Limit_Ohms;State;Wire\r\n"a; b";B1;A1;;1,5;;W1\r\n\r\nno;B2;A1;OPEN;100k;Q1 off;\r\n';
    const { points, bad, rows, unread } = readPointList(csv);
    expect(bad).toEqual([]);
    expect(unread).toEqual([]);
    expect(rows).toEqual([2, 4]);
    expect(points).toEqual([
      { wire: 'W1', from: 'A1', to: 'B1', expected: 'closed', limitOhms: '1.5', state: '', note: 'a; b' },
      { wire: '', from: 'A1', to: 'B2', expected: 'open', limitOhms: '100000', state: 'Q1 off', note: 'no' },
    ]);
  });

  it.each([
    ['from,to\nA1,\n', 2, 'to', 'is empty'],
    ['from,to\nA1,A1\n', 2, 'to', 'is the same terminal as from'],
    ['from,to,expected\nA1,B1,perhaps\n', 2, 'expected', 'must be closed or open'],
    ['from,to\nA1,B1\nB1,A1\n', 3, null, 'this pair stands in row 2 already'],
    [
      'from,to,expected\nA1,B1,closed\nA1,B1,open\n',
      3,
      'expected',
      'this pair is to be closed in row 2, and open here',
    ],
    ['from,to\nA1,B1\na1,B2\n', 3, 'from', 'differs from A1 above only in capital letters; write it the same'],
    [
      'from,to,expected\nA1,B1,closed\nB1,C1,closed\nA1,C1,open\n',
      4,
      'expected',
      'is to be open, but closed points connect A1 with C1',
    ],
    ['from,to,limit_ohms\nA1,B1,0.1\n', 2, 'limit_ohms', /500 mΩ.*low resistance/],
    ['from,to,expected,limit_ohms\nA1,B1,open,1G\n', 2, 'limit_ohms', /insulation tester/],
    ['from,to,limit_ohms\nA1,B1,two\n', 2, 'limit_ohms', /no resistance/],
    ['from;to;limit_ohms\nA1;B1;1,000\n', 2, 'limit_ohms', /thousands/],
    ['from,to\nA1,B1,C1\n', 2, null, /has 3 cells instead of 2/],
    [`from,to\n${'A'.repeat(41)},B1\n`, 2, 'from', /at most 40 characters/],
  ])('refuses %j by row and column', (csv, row, column, why) => {
    const [fault] = readPointList(csv).bad;
    expect(fault).toMatchObject({ row, column });
    expect(fault?.why).toMatch(typeof why === 'string' ? new RegExp(`^${why.replaceAll('.', '\\.')}$`) : why);
  });

  it('keeps every other row of a list with bad ones', () => {
    const read = readPointList('from,to,expected\nA1,B1,\nA2,,\nA3,B3,x\nA4,B4,o\n');
    expect(read.points.map(({ from }) => from)).toEqual(['A1', 'A4']);
    expect(read.bad.map(({ row }) => row)).toEqual([3, 4]);
  });

  it('may have a pair closed in one state of a switch and open in another', () => {
    const read = readPointList('from,to,expected,state\nL1,T1,closed,Q1 on\nL1,T1,open,Q1 off\n');
    expect(read.bad).toEqual([]);
    expect(read.points).toHaveLength(2);
  });

  it.each([
    ['from\nA1\n', /no column to/],
    ['from,to\n', /there are no points/],
    ['from,to,FROM\nA,B,C\n', /the column from is there twice/],
    [
      `from,to\n${Array.from({ length: MOST_LISTED + 1 }, (_, at) => `A${at},B${at}`).join('\n')}`,
      /more than 2000 points/,
    ],
  ])('is refused as a whole where it is none: %#', (csv, why) => {
    expect(() => readPointList(csv)).toThrow(why);
  });

  it('says how many pairs each choice of cross-connections adds', () => {
    const { crossCounts, terminals } = previewPoints('from,to\nA1,B1\nA2,B2\nA3,B3\n');
    expect(terminals).toBe(6);
    expect(crossCounts).toEqual({ none: 0, neighbours: 4, nets: 3, all: 12 });
  });

  it('whatever is in it, is read or refused in words', () => {
    const cell = fc.oneof(
      fc.constantFrom('A1', 'B2', 'open', 'closed', '2', '"', ';', "'=1", '0,5'),
      fc.string({ maxLength: 6 }),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 8 }), (rows) => {
        try {
          const { points, bad } = readPointList(
            `from,to,expected,limit_ohms\n${rows.map((row) => row.join(',')).join('\n')}`,
          );
          for (const { from, to } of points) expect(from).not.toBe(to);
          for (const { why } of bad) expect(why).not.toBe('');
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Problem);
        }
      }),
    );
  });
});
