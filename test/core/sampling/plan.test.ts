import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeLetter, LEVELS } from '../../../core/sampling/codeLetter.ts';
import { planFor, preferredAql } from '../../../core/sampling/plan.ts';
import { planChoice } from '../../../core/sampling/planChoice.ts';
import { AQLS } from '../../../core/sampling/singlePlan.ts';
import { sharedTable } from './sharedTable.ts';

describe('code letters', () => {
  // MIL-STD-105E (10 May 1989), Table I; first and last lot size of some rows.
  it.each([
    [2, 'II', 'A'],
    [8, 'II', 'A'],
    [9, 'II', 'B'],
    [50, 'II', 'D'],
    [51, 'II', 'E'],
    [90, 'II', 'E'],
    [150, 'II', 'F'],
    [151, 'II', 'G'],
    [280, 'II', 'G'],
    [500, 'II', 'H'],
    [1200, 'II', 'J'],
    [3200, 'II', 'K'],
    [3201, 'II', 'L'],
    [10_000, 'II', 'L'],
    [35_000, 'II', 'M'],
    [150_000, 'II', 'N'],
    [500_000, 'II', 'P'],
    [500_001, 'II', 'Q'],
    [500_001, 'III', 'R'],
    [2, 'III', 'B'],
    [1000, 'S-1', 'C'],
    [1000, 'S-4', 'F'],
    [1000, 'I', 'G'],
  ])('of %i pieces at level %s is %s', (lotSize, level, letter) => expect(codeLetter(lotSize, level)).toBe(letter));

  it('are those of the whole table where it is at hand', () => {
    const table = sharedTable('milstd105e-code-letters.csv');
    if (!table) return;
    expect(table).toHaveLength(15);
    for (const row of table) {
      const first = Number(row.lot_min);
      const last = /^\d+$/.test(row.lot_max ?? '') ? Number(row.lot_max) : first + 1_000_000_000;
      for (const level of LEVELS) {
        expect(codeLetter(first, level), `${first} ${level}`).toBe(row[level]);
        expect(codeLetter(last, level), `${last} ${level}`).toBe(row[level]);
      }
    }
  });

  it.each([0, -1, 1.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 60])('of %s pieces are refused', (lotSize) =>
    expect(() => codeLetter(lotSize, 'II')).toThrowError(expect.objectContaining({ code: 'lot-empty' })),
  );

  it.each(['', 'IV', 'ii', 'S-5', '2'])('at level %j are refused', (level) =>
    expect(() => codeLetter(100, level)).toThrowError(expect.objectContaining({ code: 'level-unknown' })),
  );
});

describe('the plan of a lot', () => {
  const byAql = (lotSize: number, aql: string, level: (typeof LEVELS)[number] = 'II') =>
    planFor(lotSize, planChoice.parse({ kind: 'aql', level, aql }));

  // MIL-STD-105E, Tables I and II-A.
  it.each([
    [5000, '1.5', 'II', 'L', 200, 7],
    [5000, '0.65', 'II', 'L', 200, 3],
    [1000, '1.0', 'II', 'J', 80, 2],
    [200, '0.65', 'II', 'G', 20, 0],
    [300, '0.65', 'II', 'H', 80, 1],
    [100, '4.0', 'II', 'F', 20, 2],
    [75, '4.0', 'II', 'E', 13, 1],
    [1000, '1.0', 'I', 'G', 50, 1],
    [1000, '2.5', 'S-3', 'E', 20, 1],
    [2, '6.5', 'II', 'A', 2, 0],
  ] as const)('of %i pieces at AQL %s, level %s: letter %s, sample %i, Ac %i', (lotSize, aql, level, letter, n, ac) =>
    expect(byAql(lotSize, aql, level)).toMatchObject({
      codeLetter: letter,
      sampleSize: n,
      accept: ac,
      reject: ac + 1,
      everyPiece: n === lotSize,
    }),
  );

  // MIL-STD-105E, Table II-A, note to the arrow: a sample as large as the lot or larger is the whole lot.
  it('is every piece where the sample would be as large as the lot', () => {
    expect(byAql(10, '0.010')).toMatchObject({
      planLetter: 'Q',
      sampleSize: 10,
      accept: 0,
      reject: 1,
      everyPiece: true,
    });
    expect(byAql(80, '0.15', 'III')).toMatchObject({ planLetter: 'J', sampleSize: 80, everyPiece: true });
    expect(byAql(81, '0.15', 'III')).toMatchObject({ planLetter: 'J', sampleSize: 80, everyPiece: false });
  });

  it('never accepts a lot of one bad piece', () => {
    for (const aql of AQLS.slice(0, 16)) {
      expect(byAql(1, aql), aql).toMatchObject({ sampleSize: 1, accept: 0, reject: 1, everyPiece: true });
    }
  });

  it('spells the AQL as the standard does', () => {
    expect(byAql(100, '1').choice).toEqual({
      kind: 'aql',
      standard: 'MIL-STD-105E',
      level: 'II',
      aql: '1.0',
      severity: 'normal',
      sampling: 'single',
    });
    expect(preferredAql(' 0.1 ')).toBe('0.10');
    expect(preferredAql('10.0')).toBe('10');
  });

  it.each(['', '1 %', '1,0', '-1', '1e0', '0', '2', '0.66', 'one'])('refuses AQL %j', (aql) =>
    expect(() => byAql(100, aql)).toThrowError(expect.objectContaining({ code: 'aql-unknown' })),
  );

  // MIL-STD-105E, 4.3: AQLs above 10 are nonconformities per hundred units and not per cent nonconforming.
  it.each(['15', '25', '40', '65', '100', '1000'])('refuses AQL %s for pieces', (aql) =>
    expect(() => byAql(100, aql)).toThrowError(expect.objectContaining({ code: 'aql-not-percent' })),
  );

  it('is as agreed where numbers were agreed', () => {
    expect(planFor(100, { kind: 'agreed', sampleSize: 20, accept: 0 })).toEqual({
      choice: { kind: 'agreed', sampleSize: 20, accept: 0 },
      codeLetter: null,
      planLetter: null,
      sampleSize: 20,
      accept: 0,
      reject: 1,
      everyPiece: false,
      further: null,
      variables: null,
    });
    expect(planFor(20, { kind: 'agreed', sampleSize: 20, accept: 3 }).everyPiece).toBe(true);
  });

  it.each([
    [0, 1, 0, 'lot-empty'],
    [1.5, 1, 0, 'lot-empty'],
    [10, 11, 0, 'sample-larger-than-lot'],
    [10, 0, 0, 'acceptance-number-impossible'],
    [10, -1, -2, 'acceptance-number-impossible'],
    [10, 5, 5, 'acceptance-number-impossible'],
    [10, 5, -1, 'acceptance-number-impossible'],
    [10, 1.5, 0, 'acceptance-number-impossible'],
    [10, 5, 0.5, 'acceptance-number-impossible'],
    [10, Number.NaN, 0, 'acceptance-number-impossible'],
  ])('of %s pieces with %s and Ac %s agreed is refused: %s', (lotSize, sampleSize, accept, code) =>
    expect(() => planFor(lotSize, { kind: 'agreed', sampleSize, accept })).toThrowError(
      expect.objectContaining({ code }),
    ),
  );

  it('can always be carried out and decided (property)', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.integer({ min: 1, max: 50 }), fc.integer({ min: 1, max: 1_000_000 })),
        fc.constantFrom(...LEVELS),
        fc.constantFrom(...AQLS.slice(0, 16)),
        (lotSize, level, aql) => {
          const plan = byAql(lotSize, aql, level);
          expect(plan.sampleSize).toBeGreaterThanOrEqual(1);
          expect(plan.sampleSize).toBeLessThanOrEqual(lotSize);
          expect(plan.accept).toBeLessThan(plan.sampleSize);
          expect(plan.reject).toBe(plan.accept + 1);
          expect(plan.everyPiece).toBe(plan.sampleSize === lotSize);
        },
      ),
    );
  });
});
