import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Part, part } from '../../../core/part/part.ts';
import { PART_COLUMNS } from '../../../core/part/partColumns.ts';
import { partsFile, readPartsFile } from '../../../core/part/partsFile.ts';
import { changesOf, partsPreview } from '../../../core/part/partsPreview.ts';
import { anyPart, anyParts } from './anyPart.ts';

const file = (...rows: string[]) => rows.join('\n');
const partsIn = (text: string) => readPartsFile(text).good.map((each) => each.part);
const problemIn = (text: string): string => {
  try {
    readPartsFile(text);
    return 'readable';
  } catch (thrown) {
    return (thrown as { what: string }).what;
  }
};
const badIn = (text: string) =>
  readPartsFile(text).bad.map(({ row, column, why }) => `${row} ${column ?? 'row'}: ${why}`);

/** Whether a spreadsheet could take a cell for a formula (OWASP, "CSV Injection"; from memory). */
const begins = (cell: string) => cell.split(/[;|\t]/).some((bit) => /^[\s"\u00a0]*[=+\-@＝＋－＠]/.test(bit));

describe('a file of parts', () => {
  it('gives back the very parts it was made of (property)', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyParts, (parts) => {
        const read = readPartsFile(partsFile(parts));
        expect(read.bad).toEqual([]);
        expect(read.unread).toEqual([]);
        expect(read.good.map((each) => each.part)).toEqual(parts);
        expect(read.good.map(({ row }) => row)).toEqual(parts.map((_, index) => index + 2));
      }),
      { numRuns: 300 },
    );
  });

  it('has no cell of free text that could be a formula, as another CSV reader sees it (property)', {
    timeout: 60_000,
  }, () => {
    const texts = PART_COLUMNS.flatMap(({ holds }, index) => (holds === 'text' ? [index] : []));
    fc.assert(
      fc.property(anyParts, (parts) => {
        const rows: string[][] = parse(partsFile(parts));
        expect(rows).toHaveLength(parts.length + 1);
        for (const cells of rows) for (const index of texts) expect(begins(cells[index] ?? '')).toBe(false);
      }),
      { numRuns: 200 },
    );
  });

  it('keeps its own formula text unharmed both ways', () => {
    const known = part.parse({
      number: '=HYPERLINK("http://example.invalid","x")',
      tolerance: '>= 1M',
      supplier: '+A',
    });
    expect(partsFile([known])).toContain(`"'=HYPERLINK(""http://example.invalid"",""x"")"`);
    expect(partsIn(partsFile([known]))).toEqual([known]);
  });

  it('needs the columns part and tolerance only, in any order and case, and leaves others alone but says so', () => {
    const text = file('Tolerance,Shelf,PART,nominal', '1 %,12,P-1,4k7', '', '5 %,13,P-2,10k', ',,,');
    const read = readPartsFile(text);
    expect(read.unread).toEqual(['shelf']);
    expect(read.good).toEqual([
      { row: 2, part: part.parse({ number: 'P-1', nominal: '4k7', tolerance: '1 %' }), odd: null },
      { row: 4, part: part.parse({ number: 'P-2', nominal: '10k', tolerance: '5 %' }), odd: null },
    ]);
  });

  it('is read with any line ends and a byte order mark', () => {
    for (const end of ['\n', '\r\n', '\r']) {
      expect(partsIn(`\ufeffpart,nominal,tolerance${end}P-1,4k7,1 %${end}${end}`)).toHaveLength(1);
    }
  });

  it('names each bad row by number, column and why, and reads the good ones', () => {
    const text = file(
      'part,nominal,tolerance,aql,level,sample_size,accept,rated_watts,method,every_readings',
      'P-1,4k7,1 %,,,,,0.25,,',
      ',4k7,1 %,,,,,,,',
      'P-3,4x7,1 %,,,,,,,',
      'P-4,4k7,5,,,,,,,',
      'P-5,4k7,1 %,,,,,-1,3-wire,',
      'P-6,4k7,1 %,1.0,,20,0,,,',
      'P-7,4k7,1 %,3,,,,,,',
      'P-8,4k7,1 %,,,20,,,,',
      'P-1,4k7,2 %,,,,,,,',
      'P-10,4k7',
      'P-11,4k7,1 %,,,3,3,,,1e2',
      'P-12,4k7,1 %,,,3,3,,,',
      'P-13,,1 %,,,,,,,',
      `P-14,4k7,"1\n%",,,,,,,`,
    );
    const read = readPartsFile(text);
    expect(read.good.map(({ row }) => row)).toEqual([2]);
    expect(badIn(text)).toEqual([
      '3 part: is empty, expected a part number',
      expect.stringMatching(/^4 nominal: "4x7" is not a resistance\. Write it like/),
      expect.stringMatching(/^5 tolerance: "5" is not a tolerance\. /),
      '6 rated_watts: is not a number of watts above 0, like 0.25',
      '6 method: is not one of 2-wire, 4-wire',
      '7 sample_size: does not go with aql; give one or the other',
      expect.stringMatching(/^8 aql: AQL 3 is not one of the preferred values\. /),
      '9 accept: is empty, expected a whole number of pieces',
      '10 part: stands in row 2 already',
      '11 row: has 2 cells instead of 10; a cell with a , in it needs quotes',
      '12 every_readings: is not a whole number from 1 to 1000',
      expect.stringMatching(/^13 accept: An acceptance number of 3 is not below the sample of 3 pieces\. /),
      expect.stringMatching(/^14 nominal: A tolerance around a nominal value was given, but no nominal value/),
      '15 tolerance: one line of text without control characters',
    ]);
    expect(read.bad.find(({ row }) => row === 6)).toMatchObject({ column: 'rated_watts', value: '-1' });
  });

  it.each([
    ['nothing', '', 'row 1: there is no column part, tolerance; it names ""'],
    ['a header only', 'part,tolerance', 'row 2: there are no parts'],
    ['tabs', file('part\ttolerance', 'P\t1 %'), 'row 1: there is no column part, tolerance'],
    ['a column twice', file('part,tolerance,Part', 'P,1 %,Q'), 'row 1: the column part is there twice'],
    ['a quote that never ends', file('part,tolerance', '"P,1 %'), 'as CSV: Quote Not Closed'],
    ['20 001 parts', `part,tolerance\n${'P,1 %\n'.repeat(20_001)}`, 'row 20002: more than 20000 parts'],
  ])('of %s is refused as a whole, in words', (_what, text, words) => {
    expect(problemIn(text)).toContain(words);
  });

  describe('with semicolons, as spreadsheets write it where the comma is the decimal sign', () => {
    it('is read, decimal commas and all', () => {
      const text = file(
        'part;description;nominal;tolerance;rated_watts;tcr_limit_ppm_per_k;aql;process_spread',
        'P-1;Film, 0,25 W;4,7k;+0,2 -0,1 ohm;0,25;12,5;0,65;0,3 %',
        'P-2;;0,125;0,5 %;0,125;;1,0;',
      );
      expect(badIn(text)).toEqual([]);
      expect(partsIn(text)).toEqual([
        part.parse({
          number: 'P-1',
          description: 'Film, 0,25 W',
          nominal: '4.7k',
          tolerance: '+0.2 -0.1 ohm',
          ratedWatts: '0.25',
          temperature: { coefficient: { limitPpmPerKelvin: '12.5' } },
          plan: { aql: '0.65' },
          decision: { processSpread: '0.3 %' },
        }),
        part.parse({ number: 'P-2', nominal: '0.125', tolerance: '0.5 %', ratedWatts: '0.125', plan: { aql: '1.0' } }),
      ]);
    });

    it.each(['4,700', '1,000,000', '12,345', '1,2,3', '1.000,5'])(
      'refuses %s, whose comma may stand between thousands',
      (nominal) => {
        expect(badIn(file('part;nominal;tolerance', `P-1;${nominal};1 %`))).toEqual([
          expect.stringMatching(/^2 nominal: the comma may be a decimal sign or stand between thousands; write it so/),
        ]);
      },
    );

    // Where the comma is the decimal sign the dot stands between thousands: 4.700 is 4700, and was read as 4.7.
    it.each(['4.700', '1.000.000', '12.345', '4.700 ohm', '4.700k'])(
      'refuses %s, whose dot may stand between thousands',
      (nominal) => {
        expect(badIn(file('part;nominal;tolerance', `P-1;${nominal};1 %`))).toEqual([
          expect.stringMatching(/^2 nominal: the dot may be a decimal sign or stand between thousands; write it so/),
        ]);
      },
    );

    it('takes dots that can only be decimal signs', () => {
      const text = file(
        'part;nominal;tolerance;rated_watts',
        'P-1;0.125;0.5 %;0.25',
        'P-2;4.7k;1 %;',
        'P-3;4.7000;1 %;',
      );
      expect(badIn(text)).toEqual([]);
      expect(partsIn(text).map(({ nominal }) => nominal)).toEqual(['0.125', '4.7k', '4.7000']);
    });

    it('is told by the names it is between, and not by a comma in another one', () => {
      for (const header of ['part;nominal;tolerance;price, each', '"part" ; "nominal";"tolerance";"a,b"']) {
        expect(partsIn(file(header, 'P-1;4,7k;1 %;3'))).toMatchObject([{ nominal: '4.7k' }]);
      }
      expect(partsIn(file('part,nominal,tolerance,price; each', 'P-1,4k7,1 %,3'))).toHaveLength(1);
    });
  });

  it('takes a quote within a cell for a character, and blanks around a quoted cell for none', () => {
    const text = file('part,nominal,tolerance,description', 'P-1,4k7,1 %,reel of 7" wide', '"P-2" , "4k7", 1 % ,ok');
    expect(badIn(text)).toEqual([]);
    expect(partsIn(text).map(({ number, description }) => [number, description])).toEqual([
      ['P-1', 'reel of 7" wide'],
      ['P-2', 'ok'],
    ]);
    // A cell that begins with one and does not end takes other rows with it: it is named, and none of them is read.
    const swallowed = file('part,nominal,tolerance,description', 'P-1,4k7,1 %,"7 in', 'P-2,4k7,1 %,x"', 'P-3,4k7,1 %,');
    expect(partsIn(swallowed).map(({ number }) => number)).toEqual(['P-3']);
    expect(badIn(swallowed)).toEqual([expect.stringMatching(/^2 description: one line of text/)]);
    // Where cells end nobody can say there.
    const unclear = file('part,nominal,tolerance,description', 'P-1,4k7,1 %,"7 in" wide', 'P-2,4k7,1 %,');
    expect(problemIn(unclear)).toMatch(/Invalid Closing Quote: .* at line 2/);
  });

  it('bears empty cells behind the last column, as spreadsheets write them, and no other ones', () => {
    expect(partsIn(file('part,nominal,tolerance', 'P-1,4k7,1 %,,', 'P-2,4k7,1 %, '))).toHaveLength(2);
    expect(badIn(file('part,nominal,tolerance', 'P-1,4k7,1 %,,x'))).toEqual([
      '2 row: has 5 cells instead of 3; a cell with a , in it needs quotes',
    ]);
  });

  it('has one part to a number, whatever is in it that is not to be seen', () => {
    const text = file(
      'part,nominal,tolerance',
      'P-1,4k7,1 %',
      'P\u200b-1,10k,1 %',
      'P-\u00ad1,10k,1 %',
      '\u200b,1k,1 %',
    );
    expect(partsIn(text).map(({ number }) => number)).toEqual(['P-1']);
    expect(badIn(text)).toEqual([
      '3 part: stands in row 2 already',
      '4 part: stands in row 2 already',
      '5 part: must not be empty',
    ]);
  });

  it.each(['4.7k\u2126', '4.7kΩ', '4.7 kohm', '4K7', '4.7 kΩ', '4700 Ohm'])('reads the nominal value %s', (nominal) => {
    const read = partsIn(file('part,nominal,tolerance', `P-1,${nominal},1 %`));
    // The ohm sign and the omega are one: a part must not seem to change for it.
    expect(read).toMatchObject([{ nominal: nominal.normalize('NFC') }]);
    const text = partsFile(read);
    const [again] = partsIn(text.replace('Ω', '\u2126'));
    expect(again && changesOf(read[0] as Part, again)).toEqual([]);
  });

  it('knows an AQL whose zeros a spreadsheet has taken', () => {
    const known = part.parse({ number: 'P-1', nominal: '4k7', tolerance: '1 %' });
    for (const [aql, separator] of [
      ['1', ','],
      ['1.00', ','],
      ['1', ';'],
      ['1,0', ';'],
    ] as const) {
      const [read] = partsIn(file('part,nominal,tolerance,aql', `P-1,4k7,1 %,${aql}`).replace(/,(?!0$)/g, separator));
      expect([aql, read && changesOf(known, read)]).toEqual([aql, []]);
    }
  });

  it('with commas refuses a decimal comma, in words', () => {
    expect(badIn(file('part,nominal,tolerance,rated_watts', 'P-1,"4,7k",1 %,', 'P-2,4k7,1 %,"0,25"'))).toEqual([
      expect.stringMatching(/^2 nominal: "4,7k" is not a resistance.*the decimal sign is a dot/),
      '3 rated_watts: is not a number of watts above 0, like 0.25',
    ]);
  });

  it('takes a number in no other way than in plain decimals', () => {
    for (const count of ['0x10', '1e1', ' ', '+5', '5.5', 'Infinity', '٥']) {
      const read = readPartsFile(file('part,tolerance,sample_size,accept', `P,<= 1,${count},0`));
      expect([count, read.good]).toEqual([count, []]);
    }
  });

  it('never throws anything but that it cannot be used (property)', () => {
    const scraps = fc.array(
      fc.oneof(fc.constantFrom(',', ';', '"', '\n', '\r\n', 'part', 'tolerance', '1 %', '4k7', "'"), fc.string()),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(scraps, (bits) => {
        const text = bits.join('');
        for (const each of [text, `part,tolerance,nominal\n${text}`]) {
          const what = problemIn(each);
          expect(what === 'readable' || what.startsWith('The file of parts cannot be used')).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe('the preview of a file of parts', () => {
  const known = (...parts: Part[]) => new Map(parts.map((each) => [each.number, each]));

  it('tells new, replaced and same apart, and what changes', () => {
    const [one, two] = [
      part.parse({ number: 'P-1', nominal: '4k7', tolerance: '1 %', ratedWatts: '0.25' }),
      part.parse({ number: 'P-2', nominal: '10k', tolerance: '5 %' }),
    ];
    const text = file(
      'part,nominal,tolerance,sample_size,accept,colour',
      'P-1,4k7,2 %,20,0,red',
      'P-2,10k,5 %,,,',
      'P-3,1k,5 %,,,',
      'P-4,1k,,,,',
    );
    expect(partsPreview(readPartsFile(text), known(one, two))).toEqual({
      added: [{ row: 4, number: 'P-3', nominal: '1k', tolerance: '5 %' }],
      replaced: [
        {
          row: 2,
          number: 'P-1',
          changes: [
            { column: 'tolerance', before: '1 %', after: '2 %' },
            { column: 'rated_watts', before: '0.25', after: '' },
            { column: 'aql', before: '1.0', after: '' },
            { column: 'level', before: 'II', after: '' },
            { column: 'sample_size', before: '', after: '20' },
            { column: 'accept', before: '', after: '0' },
            { column: 'standard', before: 'MIL-STD-105E', after: '' },
            { column: 'sampling', before: 'single', after: '' },
          ],
        },
      ],
      odd: [],
      same: 1,
      bad: [{ row: 5, column: 'tolerance', value: '', why: 'is empty, expected a tolerance like 1 %, or limits' }],
      unread: ['colour'],
    });
  });

  it('warns of values that are no preferred numbers, of parts that are new or change, and keeps none back', () => {
    // IEC 60063: 4.8 and 4.99 are of no series for 5 %, 4.7 is.
    const same = part.parse({ number: 'P-4', nominal: '4k8', tolerance: '5 %' });
    const text = file(
      'part,nominal,tolerance',
      'P-1,4k7,5 %',
      'P-2,4k99,5 %',
      'P-3,4k8,5 %',
      'P-4,4k8,5 %',
      'P-5,4k8,4.6k to 5k',
      'P-6,4x8,5 %',
    );
    const before = known(same, part.parse({ number: 'P-3', nominal: '4k7', tolerance: '5 %' }));
    const { odd, added, replaced } = partsPreview(readPartsFile(text), before);
    expect(odd).toEqual([
      { row: 3, number: 'P-2', why: expect.stringContaining('4.99 kΩ is no preferred number of E24') },
      { row: 4, number: 'P-3', why: expect.stringContaining('4.8 kΩ is no preferred number of E24') },
      { row: 6, number: 'P-5', why: expect.stringContaining('of any series') },
    ]);
    expect([...added, ...replaced].map(({ number }) => number)).toEqual(['P-1', 'P-2', 'P-5', 'P-3']);
  });

  it('says that two parts differ wherever they do (property)', () => {
    fc.assert(
      fc.property(anyPart, anyPart, (before, after) => {
        const same = JSON.stringify(before) === JSON.stringify(after);
        expect(changesOf(before, after).length === 0).toBe(same);
        expect(changesOf(before, before)).toEqual([]);
      }),
    );
  });
});
