import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LotValues, lotToLot } from '../../../core/drift/lotToLot.ts';
import { spreadConstants } from '../../../core/statistics/shewhart.ts';

const lot = (meanOhms: number | null, standardDeviationOhms: number | null = 2, n = 50): Omit<LotValues, 'label'> => ({
  n,
  meanOhms,
  standardDeviationOhms,
});
const lots = (...values: Omit<LotValues, 'label'>[]): LotValues[] =>
  values.map((value, index) => ({ ...value, label: `L${index + 1}` }));

/** Invented lots that go up and down by 1 Ω: mean step 1, limits ± 3/1.128379 = ± 2.658681. */
const STEADY = [4700, 4701, 4700, 4701, 4700, 4701, 4700].map((mean) => lot(mean));
const CENTRE = 4700 + 3 / 7;

describe('lot to lot', () => {
  it('takes a lot like those before it', () => {
    const { belongs, words, points, earlier, notes } = lotToLot(lots(...STEADY, lot(4701)));
    expect(belongs).toBe(true);
    expect(earlier).toBe(7);
    expect(words).toBe(
      'Lot L8 belongs with the 7 earlier lots: its mean, the moving average of the means and its standard deviation lie within their limits.',
    );
    expect(notes).toEqual(['Limits from 7 lots are rough; 20 or more make them firm.']);
    expect(points.at(-1)?.mean?.centre).toBeCloseTo(CENTRE, 9);
    expect(points.at(-1)?.mean?.upper).toBeCloseTo(CENTRE + 2.658681, 6);
    expect(points.at(-1)?.mean?.lower).toBeCloseTo(CENTRE - 2.658681, 6);
  });

  it('refuses a lot whose mean lies apart, by limits it has no part in', () => {
    const { belongs, words, points } = lotToLot(lots(...STEADY, lot(4703.2)));
    expect(belongs).toBe(false);
    expect(words).toContain(
      'Lot L8 does not belong with the 7 earlier lots: its mean, 4703.20 Ω, lies above the limits 4697.77 to 4703.09 Ω',
    );
    expect(points.map(({ mean }) => mean?.out)).toEqual([...Array(7).fill(false), true]);
    // However far it lies, the limits stay.
    expect(lotToLot(lots(...STEADY, lot(9999))).points.at(-1)?.mean?.upper).toBe(points.at(-1)?.mean?.upper);
    expect(lotToLot(lots(...STEADY, lot(4690))).words).toContain('lies below');
  });

  it('sees a slow drift by the moving average before a single mean is out', () => {
    const drifting = [4702.5, 4702.5, 4702.5, 4702.5];
    const long = [...STEADY, ...STEADY.slice(1), ...STEADY.slice(1)];
    // The lots before the last have a part in the limits; the drift is short against them.
    const { points, belongs, words } = lotToLot(lots(...long, ...drifting.map((mean) => lot(mean))));
    expect(points.at(-1)?.mean?.out).toBe(false);
    expect(points.at(-1)?.average?.out).toBe(true);
    expect(belongs).toBe(false);
    expect(words).toContain('the moving average of the means up to it');
    expect(words).not.toContain('its mean,');
  });

  // e-Handbook 6.3.2.4 (from memory, recomputed): λ 0.3, k 3, z = 0.3·x + 0.7·z.
  it('makes the moving average as the e-Handbook does', () => {
    const { points } = lotToLot(lots(...STEADY, lot(4702)));
    let z = CENTRE;
    const sigma = Math.sqrt(Math.PI) / 2;
    for (const [index, { average, meanOhms }] of points.entries()) {
      z = 0.3 * meanOhms + 0.7 * z;
      const half = 3 * sigma * Math.sqrt((0.3 / 1.7) * (1 - 0.7 ** (2 * (index + 1))));
      expect(average?.value).toBeCloseTo(z, 9);
      expect(average?.upper).toBeCloseTo(CENTRE + half, 9);
    }
  });

  it('holds the spread against B3 and B4 of its own n', () => {
    const wide = lotToLot(lots(...STEADY, lot(4700, 2.8)));
    expect(wide.belongs).toBe(false);
    expect(wide.words).toContain('its standard deviation, 2.80 Ω, is larger than the limits');
    expect(lotToLot(lots(...STEADY, lot(4700, 1.3))).words).toContain('is smaller than');
    // The same spread of a small lot may be chance.
    const small = lotToLot(lots(...STEADY, lot(4700, 2.8, 8)));
    expect(small.belongs).toBe(true);
    const { c4, B4 } = spreadConstants(8);
    // 7·49 degrees of freedom: c4 of 344 is 1 - 1/(4·343.5) within 1e-6, so σ is 2 times 1.000728.
    expect(small.points.at(-1)?.spread?.upper).toBeCloseTo(B4 * c4 * 2 * 1.000729, 4);
  });

  it.each([0, 1, 4])('says that %i earlier lots are too few', (earlier) => {
    const { belongs, words, points } = lotToLot(lots(...STEADY.slice(0, earlier), lot(9999)));
    expect(belongs).toBeNull();
    expect(words).toBe(
      `${earlier === 1 ? '1 earlier lot' : `${earlier} earlier lots`}: too few to say whether this one belongs.`,
    );
    expect(points).toHaveLength(earlier + 1);
    expect(points.every(({ mean, average, spread }) => mean === null && average === null && spread === null)).toBe(
      true,
    );
  });

  it('says in words what it cannot judge', () => {
    const flat = Array.from({ length: 6 }, () => lot(4700));
    expect(lotToLot(lots(...flat, lot(4701)))).toMatchObject({
      belongs: null,
      words:
        'The means of the 6 earlier lots are all equal, so there are no limits to say by whether lot L7 belongs. Its standard deviation is like theirs.',
    });
    // What can be judged is.
    expect(lotToLot(lots(...flat, lot(4700, 9))).belongs).toBe(false);

    const single = STEADY.map(({ meanOhms }) => lot(meanOhms, null, 1));
    const alone = lotToLot(lots(...single, lot(4701, null, 1)));
    expect(alone.belongs).toBe(true);
    expect(alone.words).toContain('its standard deviation was not judged');
    expect(alone.notes).toContain(
      'The standard deviations have no limits. The spread within is known of 0 earlier lots only.',
    );
    const equal = lotToLot(lots(...STEADY.map(({ meanOhms }) => lot(meanOhms, 0)), lot(4701, 1)));
    expect(equal.points.at(-1)?.spread).toBeNull();
    expect(equal.notes.join()).toContain('no spread within');
    expect(lotToLot(lots(...STEADY, lot(4701, null, 1))).words).toContain('there is one reading only');
  });

  it('leaves out lots without a value and judges none of its own', () => {
    const { belongs, earlier, notes, points } = lotToLot(lots(lot(null, null, 0), ...STEADY, lot(4701)));
    expect([belongs, earlier, points.length]).toEqual([true, 7, 8]);
    expect(notes[0]).toBe('Without a value, and left out: lot L1.');
    expect(lotToLot(lots(...STEADY, lot(null, null, 0)))).toMatchObject({
      belongs: null,
      words: 'Lot L8 has no reading with a value yet.',
    });
    expect(lotToLot([])).toMatchObject({ belongs: null, words: 'There is no lot to judge.', points: [] });
  });

  it('names earlier lots outside their own limits', () => {
    const { notes } = lotToLot(lots(...STEADY, lot(4720), ...STEADY, lot(4701)));
    expect(notes.join(' ')).toContain('Already outside these limits: lot L8.');
  });

  it('never shows what is no number', () => {
    const any = fc.record({
      label: fc.constant('x'),
      n: fc.integer({ min: 1, max: 1000 }),
      meanOhms: fc.option(fc.double({ min: -1, max: 1e12, noNaN: true })),
      standardDeviationOhms: fc.option(fc.double({ min: 0, max: 1e9, noNaN: true })),
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 15 }), (values) => {
        const { words, notes, points } = lotToLot(values);
        expect([words, ...notes].join(' ')).not.toMatch(/NaN|Infinity|null|undefined|e[+-]\d/);
        JSON.stringify(points, (_, value) => {
          if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
          return value;
        });
      }),
    );
  });
});
