import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readBands } from '../../../core/marking/bands.ts';
import { bandsOf } from '../../../core/marking/bandsOf.ts';
import { COLOUR_NAMES, COLOURS, type Colour } from '../../../core/marking/colour.ts';
import { isMarked, type Marked, type Unread } from '../../../core/marking/marking.ts';
import { bandsToCome, readOneWay } from '../../../core/marking/oneWay.ts';
import { readColours } from '../../../core/marking/readColours.ts';

const marked = (read: Marked | Unread): Marked => {
  if (!isMarked(read)) throw new Error(read.refused);
  return read;
};
const forward = (text: string) => marked(readOneWay(readColours(text)));

describe('colour bands', () => {
  // Shared check values, section 1.4. "Source read": the value was seen in the document named; "worked out": from the table of
  // IEC 60062:2016 as published on colour cards.
  it.each([
    ['brown black black red brown', '10000', '1', null, 'note on IEC 60062 and 60063, 2013, source read'],
    [
      'yellow violet green orange brown',
      '475000',
      '1',
      null,
      'published colour card according to IEC 60062, source read',
    ],
    ['violet green black gold', '75', '5', null, 'published colour card according to IEC 60062, source read'],
    ['red red blue brown brown', '2260', '1', null, 'Wikipedia, "Electronic color code", source read'],
    ['brown black yellow gold', '100000', '5', null, 'Wikipedia, "Electronic color code", source read'],
    ['brown green green', '1500000', '20', null, 'worked out; a web page prints 15 Mohm, wrongly'],
    ['yellow violet red gold', '4700', '5', null, 'from memory'],
    ['yellow violet silver gold', '0.47', '5', null, 'worked out'],
    ['red red gold silver', '2.2', '10', null, 'worked out'],
    ['brown black black silver brown', '1', '1', null, 'worked out'],
    ['orange orange black brown brown red', '3300', '1', '50', 'worked out'],
    ['green blue black black violet blue', '560', '0.1', '10', 'worked out'],
    ['red black black pink gold', '0.2', '5', null, 'worked out'],
  ])('%s are %s ohm ±%s %% and %s ppm/K (%s)', (text, ...[ohms, tolerancePercent, ppmPerKelvin]) => {
    expect(forward(text)).toMatchObject({ ohms, tolerancePercent, ppmPerKelvin, scheme: 'bands' });
  });

  it('say how they were read', () => {
    expect(forward('orange orange black brown brown red').words).toBe(
      'orange 3, orange 3, black 0, brown ×10: 3.3 kΩ; brown ±1 %; red 50 ppm/K',
    );
    expect(forward('brown green green').words).toBe(
      'brown 1, green 5, green ×100 k: 1.5 MΩ; no band of tolerance: ±20 %',
    );
  });

  it('are a zero-ohm link where there is one, black', () => {
    expect(readOneWay(['black'])).toMatchObject({ ohms: '0', tolerancePercent: null, scheme: 'jumper' });
    expect(bandsOf({ ohms: '0', tolerancePercent: null, ppmPerKelvin: null })).toEqual(['black']);
    for (const colour of COLOUR_NAMES.filter((name) => name !== 'black')) {
      expect(readOneWay([colour])).toMatchObject({ refused: expect.stringContaining(colour), band: 1 });
    }
  });

  // IEC 60062:2016, as on a published colour card: violet is 0.1 % and grey 0.01 % (a web page in circulation prints 0.5 and 0.1).
  it.each([
    ['violet', '0.1'],
    ['grey', '0.01'],
    ['orange', '0.05'],
    ['yellow', '0.02'],
  ] as const)('with %s for the tolerance are of ±%s %%', (colour, percent) => {
    const read = marked(readOneWay(['brown', 'black', 'black', 'red', colour]));
    expect(read.tolerancePercent).toBe(percent);
    // Editions before 2016 differ (from memory), and the person is told.
    const changed = read.cautions.some((caution) => caution.includes('2016'));
    expect(changed).toBe(colour !== 'violet');
  });

  it.each([
    ['gold brown black red', 'Band 1 is gold: a value begins with a figure, and gold is none.', 1],
    ['black brown red gold', 'Band 1 is black: a value does not begin with the figure 0.', 1],
    ['brown silver red gold', 'Band 2 is silver: a figure stands here, and silver is none.', 2],
    ['brown black pink red brown', 'Band 3 is pink: a figure stands here, and pink is none.', 3],
    ['brown black red white', 'Band 4 is white: the tolerance stands here, and white is none.', 4],
    ['brown black black red pink', 'Band 5 is pink: the tolerance stands here, and pink is none.', 5],
    [
      'brown black black red brown gold',
      'Band 6 is gold: the temperature coefficient stands here, and gold is none.',
      6,
    ],
    ['brown black', '2 bands say nothing: a code has 3 to 6.', null],
    ['brown black black red brown red red', '7 bands say nothing: a code has 3 to 6.', null],
  ])('%s are refused', (text, refused, band) => expect(readOneWay(readColours(text))).toEqual({ refused, band }));

  // Common practice: two figures for 5 % and wider, three for 2 % and tighter.
  it('of two figures at 2 % and tighter ask whether one was missed', () => {
    expect(forward('yellow violet red brown').cautions.join()).toContain('no band was missed');
    expect(forward('yellow violet red gold').cautions).toEqual([]);
    expect(forward('yellow violet black red brown').cautions).toEqual([]);
  });

  // A distributor's note on five bands that are four and one more, read; what the fifth means differs from maker to maker.
  it('of five with gold or silver in the fourth place may be four and one more, and say so', () => {
    const both = forward('brown black red gold brown');
    expect(both).toMatchObject({ ohms: '10.2', tolerancePercent: '1' });
    expect(both.cautions.join()).toContain('without brown these are 1 kΩ ±5 %');
    // As published: blue, grey, silver, gold and a black one that is none of the code.
    const black = readOneWay(readColours('blue grey silver gold black'));
    expect(black).toMatchObject({ refused: expect.stringContaining('without black these are 680 mΩ ±5 %'), band: 3 });
    // No such thing with other colours there, in four or six bands, or where the four are none.
    expect(forward('brown black black red brown').cautions).toEqual([]);
    expect(forward('yellow violet red gold').cautions).toEqual([]);
    expect(forward('brown black red gold brown red').cautions).toEqual([]);
  });

  it.each([
    ['brown', 2],
    ['brown black', 1],
    ['black', 2],
    ['black brown', 1],
    ['gold', 2],
    // The tolerance first: 4 at least.
    ['gold red', 1],
    ['gold silver', 2],
    ['gold gold', 2],
    ['brown black red', 0],
    ['brown black red gold', 0],
    // Three figures and a multiplier; the tolerance is still to come.
    ['brown black black black', 1],
    ['white pink', null],
    ['gold gold gold', null],
    ['brown black black red brown gold', null],
    ['brown black black red brown red red', null],
  ])('%s want %s more', (text, count) => expect(bandsToCome(readColours(text))).toBe(count));

  it('want no more exactly where one direction can be read, and never more than make six', () => {
    const wrong: string[] = [];
    for (const bands of [2, 3, 4]) {
      forEachCombination(bands, (colours) => {
        const count = bandsToCome(colours);
        const isRead = isMarked(readOneWay(colours)) || isMarked(readOneWay(colours.toReversed()));
        if ((count === 0) !== isRead || (count ?? 0) + bands > 6) wrong.push(colours.join());
      });
    }
    expect(wrong).toEqual([]);
  });

  it('of no number are refused', () =>
    expect(readOneWay([])).toEqual({ refused: 'No bands say nothing: a code has 3 to 6.', band: null }));
});

/** IEC 60062:2016, written down a second time, by place: which colours can stand there. */
const FIGURES = ['black', 'brown', 'red', 'orange', 'yellow', 'green', 'blue', 'violet', 'grey', 'white'];
const ALLOWED = {
  first: new Set(FIGURES.slice(1)),
  figure: new Set(FIGURES),
  multiplier: new Set([...FIGURES, 'gold', 'silver', 'pink']),
  tolerance: new Set(['brown', 'red', 'orange', 'yellow', 'green', 'blue', 'violet', 'grey', 'gold', 'silver']),
  coefficient: new Set(['black', 'brown', 'red', 'orange', 'yellow', 'green', 'blue', 'violet', 'grey']),
};
const LAYOUTS: Record<number, (keyof typeof ALLOWED)[]> = {
  3: ['first', 'figure', 'multiplier'],
  4: ['first', 'figure', 'multiplier', 'tolerance'],
  5: ['first', 'figure', 'figure', 'multiplier', 'tolerance'],
  6: ['first', 'figure', 'figure', 'multiplier', 'tolerance', 'coefficient'],
};

/** Every combination of so many bands, one after the other in the same array. */
function forEachCombination(bands: number, visit: (colours: Colour[]) => void): void {
  const colours = Array.from({ length: bands }, () => 'black' as Colour);
  const fill = (at: number): void => {
    if (at === bands) {
      visit(colours);
      return;
    }
    for (const colour of COLOUR_NAMES) {
      colours[at] = colour;
      fill(at + 1);
    }
  };
  fill(0);
}

describe('every combination of colours', () => {
  it.each([
    // By hand: 9·10·13, times 10 tolerances; 9·10·10·13·10, times 9 coefficients.
    [3, 1170],
    [4, 11_700],
    [5, 117_000],
    [6, 1_053_000],
  ])('of %i bands goes there and back, or is refused by the first band that cannot stand', (bands, valid) => {
    const layout = LAYOUTS[bands] as (keyof typeof ALLOWED)[];
    const figures = bands <= 4 ? 2 : 3;
    let read = 0;
    const wrong: string[] = [];
    forEachCombination(bands, (colours) => {
      const outcome = readOneWay(colours);
      const bad = layout.findIndex((place, at) => !ALLOWED[place].has(colours[at] as string));
      if (isMarked(outcome)) {
        read += 1;
        const back = bandsOf(outcome, figures);
        if (bad !== -1 || !Array.isArray(back) || back.join() !== colours.join()) wrong.push(colours.join());
      } else if (outcome.band !== bad + 1 || !outcome.refused.startsWith(`Band ${bad + 1} is ${colours[bad]}: `)) {
        wrong.push(colours.join());
      }
    });
    expect(wrong.slice(0, 5)).toEqual([]);
    expect(read).toBe(valid);
  });

  it('of 3 and 4 bands is worth what arithmetic says', () => {
    forEachCombination(4, (colours) => {
      const read = readOneWay(colours);
      if (!isMarked(read)) return;
      const [one, two, times] = colours.map((colour) => COLOURS[colour]);
      const ohms = (10 * (one?.digit ?? 0) + (two?.digit ?? 0)) * 10 ** (times?.power ?? 0);
      if (Math.abs(Number(read.ohms) / ohms - 1) > 1e-12)
        throw new Error(`${colours.join()}: ${read.ohms}, not ${ohms}`);
    });
  });
});

describe('bands of a value', () => {
  const of = (ohms: string, tolerancePercent: string | null, ppmPerKelvin: string | null = null) =>
    bandsOf({ ohms, tolerancePercent, ppmPerKelvin });

  it('have two figures from 5 % up and three for what is tighter, has three, or has a coefficient', () => {
    expect(of('4700', '5')).toEqual(['yellow', 'violet', 'red', 'gold']);
    expect(of('4700', '20')).toEqual(['yellow', 'violet', 'red']);
    expect(of('4700', '1')).toEqual(['yellow', 'violet', 'black', 'brown', 'brown']);
    expect(of('4750', '5')).toEqual(['yellow', 'violet', 'green', 'brown', 'gold']);
    expect(of('4700', '5', '100')).toEqual(['yellow', 'violet', 'black', 'brown', 'gold', 'brown']);
    expect(of('4700', '1.0')).toEqual(['yellow', 'violet', 'black', 'brown', 'brown']);
  });

  it.each([
    ['4701', '1', null, '4.701 kΩ has more than 3 figures.'],
    ['4700', '3', null, 'No colour stands for ±3 %.'],
    ['4700', null, null, 'Bands say a tolerance, and there is none here.'],
    ['4700', '1', '30', 'No colour stands for 30 ppm/K.'],
    ['4750', '20', null, '±20 % has no band, and takes two figures.'],
    ['0', '1', null, '0 Ω has a single black band, without a tolerance.'],
    ['-1', '1', null, 'A value below 0 Ω has no bands.'],
    ['0.00047', '5', null, 'No colour multiplies 2 figures to 0.47 mΩ.'],
    ['10000000000000', '1', null, 'No colour multiplies 3 figures to 10 TΩ.'],
  ])('of %s ohm ±%s %% and %s ppm/K are refused', (ohms, tolerance, coefficient, refused) =>
    expect(of(ohms, tolerance, coefficient)).toEqual({ refused, band: null }),
  );
});

describe('bands from both ends', () => {
  const both = (text: string) => readBands(readColours(text));

  it('read the other way round where the first band can be none', () => {
    const { forward: there, backward, likelier, why } = both('gold red violet yellow');
    expect(isMarked(there)).toBe(false);
    expect(marked(backward)).toMatchObject({ ohms: '4700', tolerancePercent: '5' });
    expect(likelier).toBe('backward');
    expect(why).toContain('gold');
  });

  it('say which end is impossible', () => {
    const { likelier, why } = both('yellow violet red gold');
    expect(likelier).toBe('forward');
    expect(why).toBe(
      'From the other end the bands make no sense: band 1 is gold: a value begins with a figure, and gold is none.',
    );
  });

  // 560 Ω is in E24, which tight parts are made in too; 670 Ω is in no series.
  it('prefer the preferred number at its tolerance', () => {
    const read = both('green blue black black violet blue');
    expect(marked(read.backward)).toMatchObject({ ohms: '670', tolerancePercent: '0.25', ppmPerKelvin: '20' });
    expect(read.likelier).toBe('forward');
    expect(read.why).toMatch(/^560 Ω is a preferred number .* 670 Ω is none/u);
    expect(both('blue violet black black blue green').likelier).toBe('backward');
  });

  // At 1 % neither is preferred; 101 is in E192, 131 in no series.
  it('prefer a preferred number of any series next', () => {
    const read = both('brown black brown orange brown');
    expect(marked(read.backward).ohms).toBe('131');
    expect(read.likelier).toBe('forward');
    expect(read.why).toMatch(/^101 kΩ is a preferred number of E192; 131 Ω is one of no series\./u);
  });

  it('say so where both directions say the same', () => {
    const read = both('brown red red red brown');
    expect(read).toMatchObject({ likelier: null, why: 'Both directions say the same.' });
    expect(read.forward).toEqual(read.backward);
  });

  it('say so where nothing speaks for either end', () => {
    // 10 kΩ 1 % and 120 Ω 1 %: both in E24.
    const read = both('brown black black red brown');
    expect(marked(read.backward)).toMatchObject({ ohms: '120', tolerancePercent: '1' });
    expect(read.likelier).toBeNull();
    expect(read.why).toContain('nothing speaks for either');
    expect(read.why).toContain('wider');
  });

  it('say so where neither makes sense', () => {
    const read = both('gold brown black silver');
    expect(read).toMatchObject({ likelier: null, why: 'These bands make no sense in either direction.' });
  });

  it('of any number are read or refused, in words that hold no holes', () =>
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...COLOUR_NAMES), { maxLength: 14 }), (colours) => {
        const { forward: there, backward, why } = readBands(colours);
        for (const read of [there, backward]) {
          const said = isMarked(read) ? `${read.words} ${read.cautions.join(' ')}` : read.refused;
          expect(`${said} ${why}`).not.toMatch(/NaN|undefined|null/);
          expect(isMarked(read) || read.refused.length > 0).toBe(true);
        }
      }),
      { numRuns: 2000 },
    ));

  it('turned round turn the answer round', () => {
    const other = { forward: 'backward', backward: 'forward' } as const;
    const wrong: string[] = [];
    for (const bands of [3, 4]) {
      forEachCombination(bands, (colours) => {
        const there = readBands(colours);
        const turned = readBands(colours.toReversed());
        const outcome = [turned.likelier, turned.forward, turned.backward];
        const expected = [there.likelier && other[there.likelier], there.backward, there.forward];
        if (JSON.stringify(outcome) !== JSON.stringify(expected)) wrong.push(colours.join());
      });
    }
    expect(wrong).toEqual([]);
  });

  it('never prefer a direction that makes no sense', () => {
    const wrong: string[] = [];
    forEachCombination(4, (colours) => {
      const { likelier, ...read } = readBands(colours);
      if (likelier && !isMarked(read[likelier])) wrong.push(colours.join());
      if (!likelier && isMarked(read.forward) !== isMarked(read.backward)) wrong.push(colours.join());
    });
    expect(wrong).toEqual([]);
  });
});
