import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chanceByVariables } from '../../../core/sampling/variablesOc.ts';
import {
  VARIABLES_AQLS,
  VARIABLES_LEVELS,
  variablesByAql,
  variablesTwoPoint,
} from '../../../core/sampling/variablesPlan.ts';
import { sharedTable } from './sharedTable.ts';

const spelled = (aql: string) => VARIABLES_AQLS.find((own) => Number(own) === Number(aql)) as string;

describe('plans by variables from two points', () => {
  const points = (accepted: string, producerRisk: string, refused: string, consumerRisk: string) => ({
    acceptedPercent: accepted,
    producerRiskPercent: producerRisk,
    refusedPercent: refused,
    consumerRiskPercent: consumerRisk,
  });

  // n: the manual of the R package AcceptanceSampling (5 %, 15 %), the help of AQLSchemes (1 %, 6 %). Both print the upper end of the
  // interval of k, 1.326538 and 1.905285; the intervals themselves are computed only, by another program.
  it.each([
    ['5', '5', '15', '7.5', 'unknown', 49, 1.324963, 1.326535],
    ['5', '5', '15', '7.5', 'known', 26, 1.318749, 1.322271],
    ['1', '5', '6', '10', 'unknown', 42, 1.897562, 1.905285],
    ['1', '5', '6', '10', 'known', 15, 1.885669, 1.901649],
  ] as const)('%s %% at %s %%, %s %% at %s %%, spread %s: n %i', (p1, alpha, p2, beta, spread, n, from, to) => {
    const plan = variablesTwoPoint({ ...points(p1, alpha, p2, beta), spread });
    expect(plan.sampleSize).toBe(n);
    expect(Number(plan.k)).toBeGreaterThan(from);
    expect(Number(plan.k)).toBeLessThan(to);
    expect(Math.abs(Number(plan.k) - (from + to) / 2)).toBeLessThanOrEqual(0.5e-4 + 1e-6);
  });

  const anyPoints = fc
    .record({
      accepted: fc.integer({ min: 1, max: 1000 }),
      further: fc.integer({ min: 120, max: 2000 }),
      producer: fc.integer({ min: 1, max: 20 }),
      consumer: fc.integer({ min: 1, max: 20 }),
      spread: fc.constantFrom('unknown' as const, 'known' as const),
    })
    .map(({ accepted, further, producer, consumer, spread }) => ({
      ...points(
        (accepted / 100).toFixed(2),
        String(producer),
        ((accepted / 100) * (further / 100)).toFixed(4),
        String(consumer),
      ),
      spread,
    }))
    .filter(({ refusedPercent }) => Number(refusedPercent) < 60);

  it('keep both risks, and no smaller sample does (property)', () => {
    fc.assert(
      fc.property(anyPoints, (any) => {
        const plan = { ...variablesTwoPoint(any), spread: any.spread };
        const [p1, p2] = [Number(any.acceptedPercent) / 100, Number(any.refusedPercent) / 100];
        const [least, most] = [1 - Number(any.producerRiskPercent) / 100, Number(any.consumerRiskPercent) / 100];
        expect(chanceByVariables(plan, p1)).toBeGreaterThanOrEqual(least);
        expect(chanceByVariables(plan, p2)).toBeLessThanOrEqual(most);
        if (plan.sampleSize <= 3) return;
        // With a piece less: the k that just keeps the first risk, found by halving the operating characteristic, fails the second.
        const smaller = { ...plan, sampleSize: plan.sampleSize - 1 };
        let [low, high] = [-10, 10];
        for (let i = 0; i < 60; i++) {
          const k = (low + high) / 2;
          if (chanceByVariables({ ...smaller, k: String(k) }, p1) >= least) low = k;
          else high = k;
        }
        expect(chanceByVariables({ ...smaller, k: String(high) }, p2)).toBeGreaterThan(most - 1e-9);
      }),
      { numRuns: 40 },
    );
  });

  it.each([
    ['5', '5', '5', '10'],
    ['6', '5', '1', '10'],
    ['0', '5', '1', '10'],
    ['1', '5', '100', '10'],
    ['1', '0', '6', '10'],
    ['1', '60', '6', '40'],
    ['1', '5', '1.01', '5'],
  ])('%s %% at %s %%, %s %% at %s %% are refused', (p1, alpha, p2, beta) => {
    for (const spread of ['unknown', 'known'] as const) {
      expect(() => variablesTwoPoint({ ...points(p1, alpha, p2, beta), spread })).toThrow(
        'variables-points-impossible',
      );
    }
  });
});

describe('plans by variables from MIL-STD-414', () => {
  // MIL-STD-414 (11 June 1957), Tables A-2 and B-1: example B-1 and the documented output of the R package Planesmuestra.
  it.each([
    [40, 'IV', '1.0', 'normal', 'D', 'D', 5, '1.53'],
    [1200, 'III', '1.0', 'tightened', 'I', 'I', 25, '1.98'],
    // Arrows: sample size and k of the letter they lead to.
    [40, 'IV', '0.15', 'normal', 'D', 'F', 10, '2.24'],
    [40, 'IV', '0.15', 'tightened', 'D', 'G', 15, '2.42'],
    [20, 'IV', '2.5', 'normal', 'C', 'C', 4, '1.17'],
    [600_000, 'V', '10', 'normal', 'Q', 'Q', 200, '1.07'],
  ] as const)(
    '%i pieces, level %s, AQL %s %s: letter %s, plan %s, n %i, k %s',
    (lotSize, level, aql, severity, letter, planLetter, sampleSize, k) => {
      expect(variablesByAql({ lotSize, level, aql, severity })).toEqual({
        letter,
        planLetter,
        sampleSize,
        k,
        everyPiece: false,
      });
    },
  );

  it('measures every piece where the plan asks for as many or more', () => {
    expect(variablesByAql({ lotSize: 10, level: 'IV', aql: '0.10', severity: 'normal' })).toMatchObject({
      planLetter: 'G',
      sampleSize: 10,
      everyPiece: true,
    });
    for (const lotSize of [1, 2, 3]) {
      expect(variablesByAql({ lotSize, level: 'IV', aql: '4.0', severity: 'normal' })).toMatchObject({
        letter: 'B',
        sampleSize: lotSize,
        everyPiece: true,
      });
    }
  });

  it('has the code letters of the whole table where it is at hand', () => {
    const table = sharedTable('milstd414-code-letters.csv');
    if (!table) return;
    expect(table).toHaveLength(17);
    for (const row of table) {
      const last = /^\d+$/.test(row.lot_max ?? '') ? Number(row.lot_max) : 1_000_000_000;
      for (const lotSize of [Number(row.lot_min), last]) {
        for (const level of VARIABLES_LEVELS) {
          expect(variablesByAql({ lotSize, level, aql: '10', severity: 'normal' }).letter).toBe(row[level]);
        }
      }
    }
  });

  it('has every k of the table where it is at hand, but for those that one source alone has', () => {
    const table = sharedTable('milstd414-k-table-crosscheck.csv');
    if (!table) return;
    // A lot for each letter at a level, MIL-STD-414 Table A-2.
    const lots = {
      B: 5,
      C: 20,
      D: 30,
      E: 50,
      F: 100,
      G: 150,
      H: 200,
      I: 400,
      J: 700,
      K: 1000,
      L: 2000,
      M: 5000,
      N: 20_000,
      O: 50_000,
      P: 200_000,
      Q: 1e6,
    };
    const refused: string[] = [];
    for (const { inspection, code_letter, letter_n, aql, k } of table) {
      const severity = inspection as 'normal' | 'tightened';
      const ask = () =>
        variablesByAql({
          lotSize: lots[code_letter as keyof typeof lots],
          level: 'IV',
          aql: spelled(aql as string),
          severity,
        });
      try {
        const plan = ask();
        expect(plan.letter).toBe(code_letter);
        expect(Number(plan.k), `${inspection} ${code_letter} ${aql}`).toBe(Number(k));
        if (plan.planLetter === code_letter && !plan.everyPiece) expect(plan.sampleSize).toBe(Number(letter_n));
      } catch (error) {
        expect(error).toMatchObject({ code: 'variables-plan-unconfirmed' });
        refused.push(`${inspection} ${code_letter} ${aql}`);
      }
    }
    expect(refused).toEqual([
      'normal N 0.04',
      'normal J 0.065',
      'normal K 0.065',
      'normal L 0.065',
      'tightened N 0.065',
      'tightened J 0.1',
      'tightened K 0.1',
      'tightened L 0.1',
    ]);
  });

  it('refuses what the tables do not have', () => {
    const ask = (more: object) => () =>
      variablesByAql({ lotSize: 100, level: 'IV', aql: '1.0', severity: 'normal', ...more });
    expect(ask({ aql: '0.010' })).toThrow('variables-aql-unknown');
    expect(ask({ aql: '25' })).toThrow('variables-aql-unknown');
    expect(ask({ aql: '0.040', severity: 'tightened' })).toThrow('variables-aql-unknown');
    expect(ask({ level: 'S-1' })).toThrow('variables-level-unknown');
    expect(ask({ lotSize: 0 })).toThrow('lot-empty');
    expect(ask({ lotSize: 700, aql: '0.065' })).toThrow('variables-plan-unconfirmed');
  });

  it('asks more, the better the quality and the more severe the inspection (property)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 1_000_000 }),
        fc.constantFrom(...VARIABLES_LEVELS),
        fc.integer({ min: 2, max: VARIABLES_AQLS.length - 1 }),
        (lotSize, level, column) => {
          const at = (index: number, severity: 'normal' | 'tightened') =>
            Number(variablesByAql({ lotSize, level, aql: VARIABLES_AQLS[index] as string, severity }).k);
          if (column > 2) {
            expect(at(column, 'normal')).toBeLessThan(at(column - 1, 'normal'));
            expect(at(column, 'tightened')).toBe(at(column - 1, 'normal'));
          }
        },
      ),
    );
  });
});
