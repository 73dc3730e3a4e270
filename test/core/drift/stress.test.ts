import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PieceValue, type Stress, stressResult } from '../../../core/drift/stress.ts';
import { parseStressLimit } from '../../../core/drift/stressLimit.ts';

const values = (of: Record<string, string | null>): PieceValue[] =>
  Object.entries(of).map(([piece, ohms]) => ({ piece, ohms }));

const compared = (
  before: Record<string, string | null> | PieceValue[],
  after: Record<string, string | null> | PieceValue[],
  limit = '0.25 % + 0.05 ohm',
) => {
  const list = (of: typeof before) => (Array.isArray(of) ? of : values(of));
  return stressResult({ treatment: 'heat', limit: parseStressLimit(limit), before: list(before), after: list(after) });
};

describe('the same pieces before and after a treatment', () => {
  // Limits of shared check values, section 9: 100 ohm 0.3, 47 ohm 0.1675 for 0.25 % + 0.05 ohm. The limit itself is allowed.
  it.each([
    ['100', '100.3', true],
    ['100', '99.7', true],
    ['100', '100.30000000001', false],
    ['100', '99.69999999999', false],
    ['47', '47.1675', true],
    ['47', '46.8324', false],
    ['1000', '1002.55', true],
    ['1000', '1002.551', false],
    ['100000', '99749.95', true],
    ['100000', '99749.94', false],
  ])('from %s to %s: within is %s', (before, after, within) => {
    expect(compared({ 1: before }, { 1: after }).pieces[0]?.within).toBe(within);
  });

  it('gives ΔR exactly, ΔR/R to 5 decimals of a per cent, the limit of each piece by its own first value', () => {
    const { pieces } = compared({ 1: '4702.130', 2: '4698.00' }, { 1: '4713.2', 2: '4697.99' });
    expect(pieces).toEqual([
      {
        piece: '1',
        beforeOhms: '4702.130',
        afterOhms: '4713.2',
        beforeExpandedOhms: null,
        afterExpandedOhms: null,
        changeOhms: '11.070',
        changePercent: '0.23543',
        limitOhms: '11.805325',
        within: true,
        uncertain: null,
      },
      expect.objectContaining({ changeOhms: '-0.01', changePercent: '-0.00021', limitOhms: '11.795' }),
    ]);
  });

  it('says how many are beyond, which, and the worst by share of its limit', () => {
    // ΔR 0.4 of 0.3 allowed, and 3 of 2.55: the smaller change is the worse one.
    const { words, worst, beyond, holds, change } = compared(
      { 1: '1000', 2: '100', 3: '100' },
      { 1: '1003', 2: '99.6', 3: '100.1' },
    );
    expect([worst, beyond, holds]).toEqual(['2', 2, false]);
    expect(words).toBe(
      'After heat 2 of 3 pieces changed by more than ±(0.25 % + 0.05 Ω): pieces 1, 2. Worst: piece 2, by -0.4 Ω (-0.40000 %) where 0.3 Ω are allowed.',
    );
    expect(change).toEqual({ lowestPercent: '-0.40000', highestPercent: '0.30000', meanPercent: '0.00000' });
  });

  it('says that all hold only where every piece was compared', () => {
    const all = compared({ 1: '100', 2: '100' }, { 1: '100.1', 2: '100.2' });
    expect(all.holds).toBe(true);
    expect(all.words).toBe(
      'After heat both pieces changed by no more than ±(0.25 % + 0.05 Ω). Worst: piece 2, by 0.2 Ω (0.20000 %) where 0.3 Ω are allowed.',
    );
    const some = compared({ 1: '100', 2: '100', 3: '100' }, { 1: '100.1', 2: '100.2', 9: '100' });
    expect([some.holds, some.missing, some.extra]).toEqual([null, ['3'], ['9']]);
    expect(some.words).toContain('1 piece could not be compared');
    expect(some.notes).toContain('Not measured after the treatment: piece 3.');
    expect(some.notes).toContain('Not measured before the treatment, and left out: piece 9.');
    expect(compared({ 1: '100' }, { 1: '100.0' })).toMatchObject({
      worst: null,
      words: 'After heat the one piece changed by no more than ±(0.25 % + 0.05 Ω). None changed at all.',
    });
  });

  it('matches by number, whatever the order and the zeros before', () => {
    const { pieces, missing, extra } = compared(
      [
        { piece: 7, ohms: '100' },
        { piece: '010', ohms: '200' },
        { piece: ' A01 ', ohms: '300' },
      ],
      [
        { piece: 'A01', ohms: '301' },
        { piece: '10', ohms: '201' },
        { piece: '007', ohms: '101' },
      ],
    );
    expect(pieces.map(({ piece, changeOhms }) => [piece, changeOhms])).toEqual([
      ['7', '1'],
      ['10', '1'],
      ['A01', '1'],
    ]);
    expect([missing, extra]).toEqual([[], []]);
  });

  it('keeps marks apart that are no numbers', () => {
    const { pieces, missing, extra } = compared({ 7: '10', R07: '10' }, { 7: '10', R7: '10' });
    expect([pieces.length, missing, extra]).toEqual([1, ['R07'], ['R7']]);
  });

  it('refuses a piece that is there twice, and lists without a pair', () => {
    const twice: PieceValue[] = [
      { piece: '7', ohms: '100' },
      { piece: '07', ohms: '100' },
    ];
    expect(() => compared(twice, { 7: '100' })).toThrow('Piece 7 has two values before the treatment');
    expect(() => compared({ 7: '100' }, twice)).toThrow('Piece 7 has two values after the treatment');
    expect(() => compared({ 1: '100' }, { 2: '100' })).toThrow('stress-without-pairs');
    expect(() => compared({ 1: null }, { 1: '100' })).toThrow('stress-without-pairs');
    expect(() => compared([], [])).toThrow('stress-without-pairs');
  });

  it('gives no ΔR/R of a first value of 0 or below, and the ohms alone as limit', () => {
    const { pieces, notes, change, words } = compared({ 1: '0.000', 2: '-0.001' }, { 1: '0.05', 2: '0.05' });
    expect(pieces).toMatchObject([
      { changePercent: null, limitOhms: '0.05', within: true },
      { changePercent: null, changeOhms: '0.051', limitOhms: '0.05', within: false },
    ]);
    expect(change).toBeNull();
    expect(words).toContain('Worst: piece 2, by 0.051 Ω where 0.05 Ω are allowed.');
    expect(notes).toContain('A first value of 0 Ω or below has no ΔR/R, and its limit is the ohms alone: pieces 1, 2.');
    // Without ohms nothing at all is allowed of such a piece, and it is the worst.
    const bare = compared({ 1: '100', 2: '0', 3: '0' }, { 1: '150', 2: '0', 3: '0.001' }, '0.25 %');
    expect(bare.pieces.map(({ within }) => within)).toEqual([false, true, false]);
    expect(bare.worst).toBe('3');
  });

  it('takes an open piece for beyond any limit, and one open before for none', () => {
    const { pieces, words, openBefore, holds, worst, notes } = compared(
      { 1: '100', 2: '100', 3: null },
      { 1: '150', 2: null, 3: '100' },
    );
    expect(pieces[1]).toMatchObject({ afterOhms: null, changeOhms: null, changePercent: null, within: false });
    expect([worst, openBefore, holds]).toEqual(['2', ['3'], false]);
    expect(words).toContain(
      '2 of 2 pieces changed by more than ±(0.25 % + 0.05 Ω): pieces 1, 2. Worst: piece 2, which is open.',
    );
    expect(notes).toContain('Open after the treatment, so beyond any limit: piece 2.');
    expect(notes).toContain('Open before the treatment already, so not compared: piece 3.');
  });

  describe('and their uncertainty', () => {
    const sure = (after: string, firstU: string | null, lastU: string | null) =>
      compared([{ piece: 1, ohms: '100', expandedOhms: firstU }], [{ piece: 1, ohms: after, expandedOhms: lastU }])
        .pieces[0]?.uncertain;

    // √2·0.05 = 0.0707…; the limit is 0.3.
    it('is not sure within √2 U of the limit, on either side', () => {
      expect(sure('100.2293', '0.05', '0.05')).toBe(true);
      expect(sure('100.2292', '0.05', '0.05')).toBe(false);
      expect(sure('100.3707', '0.05', '0.05')).toBe(true);
      expect(sure('100.3708', '0.05', '0.05')).toBe(false);
      expect(sure('99.7', '0.05', '0.05')).toBe(true);
      expect(sure('100', '0.05', '0.05')).toBe(false);
    });

    // 3, 4, 5.
    it('takes two that differ in root sum of squares', () => {
      expect(sure('100.25', '0.03', '0.04')).toBe(true);
      expect(sure('100.2499', '0.03', '0.04')).toBe(false);
    });

    it('is not known where one of the two is not', () => {
      expect(sure('100.3', '0.05', null)).toBeNull();
      expect(sure('100.3', null, null)).toBeNull();
      expect(sure('100.3', '0', '0')).toBe(false);
      expect(compared({ 1: '100' }, { 1: '100' }).notes.join()).toContain('uncertainty of the values is not known');
    });

    it('names the pieces', () => {
      const near = (ohms: string): PieceValue[] => [{ piece: 5, ohms, expandedOhms: '0.1' }];
      const { uncertain, notes } = compared(near('100'), near('100.29'));
      expect(uncertain).toBe(1);
      expect(notes[0]).toContain('piece 5');
    });
  });

  it('names twenty and counts the rest', () => {
    const many = (ohms: string) => Object.fromEntries(Array.from({ length: 23 }, (_, n) => [String(n + 1), ohms]));
    expect(compared(many('100'), many('200')).words).toContain('19, 20 and 3 more.');
  });

  it('puts every piece in one place, whatever the lists', () => {
    const ohms = fc.option(fc.integer({ min: -50, max: 20_000 }).map((units) => new Big(units).div(100).toFixed(2)));
    const values = fc.uniqueArray(fc.record({ piece: fc.integer({ min: 1, max: 12 }), ohms }), {
      selector: ({ piece }) => piece,
    });
    fc.assert(
      fc.property(values, values, (before, after) => {
        const firsts = new Map(before.map(({ piece, ohms: value }) => [piece, value]));
        fc.pre(after.some(({ piece }) => (firsts.get(piece) ?? null) !== null));
        const result = compared(before, after);
        const all = [...new Set([...before, ...after].map(({ piece }) => String(piece)))].sort();
        const placed = [
          ...result.pieces.map(({ piece }) => piece),
          ...result.missing,
          ...result.extra,
          ...result.openBefore,
        ];
        expect(placed.sort()).toEqual(all);
        for (const { beforeOhms, afterOhms, changeOhms, limitOhms: most, within } of result.pieces) {
          if (afterOhms === null || changeOhms === null) {
            expect(within).toBe(false);
            continue;
          }
          expect(new Big(beforeOhms).plus(changeOhms).eq(afterOhms)).toBe(true);
          expect(within).toBe(new Big(changeOhms).abs().lte(most));
        }
        const bad = result.pieces.some(({ within }) => !within);
        const left = result.missing.length + result.openBefore.length > 0;
        expect(result.holds).toBe(bad ? false : left ? null : true);
      }),
    );
  });

  it('agrees with the definition for any values', () => {
    const ohms = fc.integer({ min: 1, max: 999_999_999 }).map((milli) => new Big(milli).div(1000).toFixed(3));
    const pair = fc.tuple(ohms, fc.integer({ min: -2000, max: 2000 }));
    fc.assert(
      fc.property(fc.array(pair, { minLength: 1, maxLength: 20 }), (pairs) => {
        const before = pairs.map(([first], index): PieceValue => ({ piece: index, ohms: first }));
        const after = pairs.map(
          ([first, change], index): PieceValue => ({
            piece: index,
            ohms: new Big(first).plus(`${change}e-3`).toFixed(),
          }),
        );
        const stress: Stress = { treatment: 'load', limit: { percent: '0.25', ohms: '0.05' }, before, after };
        const { pieces, worst } = stressResult(stress);
        let most = 0;
        for (const [index, { within, changeOhms }] of pieces.entries()) {
          const [first, change] = pairs[index] as [string, number];
          // In millionths of an ohm all are whole numbers: |Δ| ≤ 0.0025·R + 0.05.
          const micro = Number(new Big(first).times(1e6));
          const limit = micro * 0.0025 + 50_000;
          expect(new Big(changeOhms ?? '').eq(`${change}e-3`)).toBe(true);
          if (Math.abs(Math.abs(change) * 1000 - limit) > 0.01) expect(within).toBe(Math.abs(change) * 1000 < limit);
          most = Math.max(most, (Math.abs(change) * 1000) / limit);
        }
        if (worst === null) expect(most).toBe(0);
        else {
          const [first, change] = pairs[Number(worst)] as [string, number];
          expect((Math.abs(change) * 1000) / (Number(new Big(first).times(1e6)) * 0.0025 + 50_000)).toBeCloseTo(
            most,
            9,
          );
        }
      }),
    );
  });
});
