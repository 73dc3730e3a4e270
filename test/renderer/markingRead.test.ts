import { describe, expect, it } from 'vitest';
import { isMarked } from '../../core/marking/marking.ts';
import { bandPlaces } from '../../renderer/marking/bandsDrawn.tsx';
import { markedWords, readEntered, withColour } from '../../renderer/marking/markingRead.ts';

const said = (kind: 'bands' | 'code', text: string) =>
  readEntered(kind, text).ways.map(({ name, read }) =>
    [name, isMarked(read) ? markedWords(read).replaceAll('\u00a0', ' ') : 'refused'].filter(Boolean).join(': '),
  );

describe('a marking as it is entered', () => {
  it.each([
    // IEC 60062; brown black black red brown is a published example (../shared/check-values.md, 1.4).
    ['bands', 'brown black black red brown', ['First to last: 10 kΩ ±1 %', 'Last to first: 120 Ω ±1 %'], null],
    ['bands', 'yellow violet red gold', ['First to last: 4.7 kΩ ±5 %', 'Last to first: refused'], 0],
    ['bands', 'gold red violet yellow', ['First to last: refused', 'Last to first: 4.7 kΩ ±5 %'], 1],
    ['bands', 'bk', ['0 Ω'], 0],
    ['bands', '', [], null],
    ['code', '4K7', ['Letter for the decimal point: 4.7 kΩ'], 0],
    // 10R is a letter code and a code of EIA-96.
    [
      'code',
      '10R',
      expect.arrayContaining([expect.stringMatching(/: 10 Ω$/), expect.stringMatching(/^EIA-96 code: /)]),
      null,
    ],
  ] as const)('%s %j', (kind, text, ways, likelier) => {
    expect(said(kind, text)).toEqual(ways);
    expect(readEntered(kind, text).likelier).toBe(likelier);
  });

  it('draws the bands that are there while the others are still to come, and says what is missing', () => {
    const quiet = (text: string) => readEntered('bands', text).toCome?.replaceAll('\u00a0', ' ') ?? null;
    const read = readEntered('bands', 'brown black');
    expect(read).toMatchObject({ colours: ['brown', 'black'], ways: [], problem: expect.stringContaining('3 to 6') });
    // Nobody who is entering it yet is told that it is wrong.
    expect(quiet('brown')).toBe('2 more bands at least');
    expect(quiet('brown black')).toBe('1 more band at least');
    expect(quiet('brown black black black')).toBe('1 more band at least');
    // What cannot become a code is wrong at once, and not for too few bands.
    expect(quiet('white pink')).toBeNull();
    expect(readEntered('bands', 'white pink').problem).toContain('No code begins with these bands');
    expect(quiet('brown blak')).toBeNull();
    for (const whole of ['black', 'brown black red', 'brown black black red brown']) expect(quiet(whole)).toBeNull();
    expect(readEntered('bands', 'brown blak').problem).toContain('"blak" is no colour');
    expect(readEntered('code', '4Q7X').problem).not.toBeNull();
  });

  it('adds a colour behind those that are there', () => {
    let text = '';
    for (const colour of ['brown', 'black', 'red', 'gold'] as const) text = withColour(text, colour);
    expect(text).toBe('brown black red gold');
  });

  it('draws all gaps alike, since nothing may say which way it is read but the words, and all bands on the part', () => {
    for (const count of [1, 3, 4, 5, 6]) {
      const places = bandPlaces(count);
      const gaps = places.slice(1).map((place, at) => place - (places[at] ?? 0));
      expect(places).toHaveLength(count);
      expect(Math.min(...places)).toBeGreaterThan(40);
      expect(Math.max(...places)).toBeLessThan(380);
      for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0] ?? 0, 9);
    }
  });
});
