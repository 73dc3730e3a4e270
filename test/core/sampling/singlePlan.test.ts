import { describe, expect, it } from 'vitest';
import { CODE_LETTERS } from '../../../core/sampling/codeLetter.ts';
import { AQLS, SEVERITIES, type Severity, STANDARDS, singlePlan } from '../../../core/sampling/singlePlan.ts';
import { sharedTable } from './sharedTable.ts';

// MIL-STD-105E (10 May 1989), Tables II-A, II-B, II-C: letter, AQL, then the plan used after arrows. Checked against the CRAN
// packages AQLSchemes and Planesmuestra (see shared check values, section 3.1).
const CELLS: Record<Severity, [string, string, string, number, number, number][]> = {
  normal: [
    ['F', '0.65', 'F', 20, 0, 1],
    ['G', '0.65', 'F', 20, 0, 1],
    ['H', '0.65', 'J', 80, 1, 2],
    ['H', '1.0', 'H', 50, 1, 2],
    ['K', '1.0', 'K', 125, 3, 4],
    ['E', '4.0', 'E', 13, 1, 2],
    ['A', '1.0', 'E', 13, 0, 1],
    ['R', '0.010', 'Q', 1250, 0, 1],
    ['R', '0.015', 'P', 800, 0, 1],
    ['L', '1.5', 'L', 200, 7, 8],
    ['A', '6.5', 'A', 2, 0, 1],
    ['A', '10', 'C', 5, 1, 2],
    ['J', '1.0', 'J', 80, 2, 3],
    ['R', '0.65', 'R', 2000, 21, 22],
    ['R', '6.5', 'L', 200, 21, 22],
    ['N', '0.40', 'N', 500, 5, 6],
    ['E', '1000', 'B', 3, 44, 45],
  ],
  tightened: [
    ['L', '1.5', 'L', 200, 5, 6],
    ['K', '1.0', 'K', 125, 2, 3],
    ['R', '0.025', 'S', 3150, 1, 2],
    ['Q', '0.025', 'S', 3150, 1, 2],
    ['K', '1.5', 'K', 125, 3, 4],
    ['A', '0.010', 'R', 2000, 0, 1],
    ['L', '6.5', 'L', 200, 18, 19],
  ],
  reduced: [
    ['K', '1.0', 'K', 50, 1, 4],
    ['L', '1.5', 'L', 80, 3, 6],
    ['J', '0.65', 'J', 32, 0, 2],
    ['A', '25', 'A', 2, 1, 2],
    ['B', '25', 'B', 2, 1, 3],
    ['L', '6.5', 'L', 80, 10, 13],
  ],
};

describe.each(SEVERITIES)('single plans for %s inspection', (severity) => {
  it.each(CELLS[severity])(
    'of letter %s at AQL %s: letter %s, sample %i, Ac %i, Re %i',
    (letter, aql, used, sampleSize, accept, reject) =>
      expect(singlePlan('MIL-STD-105E', severity, letter, aql)).toEqual({ letter: used, sampleSize, accept, reject }),
  );

  it('are those of the whole table where it is at hand', () => {
    const table = sharedTable('milstd105e-single-sampling-master.csv')?.filter((row) => row.inspection === severity);
    if (!table) return;
    expect(table).toHaveLength(16 * 26);
    for (const row of table) {
      const { code_letter: letter = '', aql = '' } = row;
      expect(singlePlan('MIL-STD-105E', severity, letter, aql), `${letter} ${aql}`).toEqual({
        letter: row.resolved_letter,
        sampleSize: Number(row.resolved_n),
        accept: Number(row.resolved_Ac),
        reject: Number(row.resolved_Re),
      });
    }
  });
});

const allCells = [...CODE_LETTERS].flatMap((letter) => AQLS.map((aql) => [letter, aql] as const));

describe('single plans of the standards', () => {
  // ISO 2859-1:1999, Tables 2-A and 2-B, from memory; what NF ISO 2859-1:2000 lists as changed (read in part) names the reduced plans.
  it.each(['normal', 'tightened'] as const)('are the same for %s inspection', (severity) => {
    for (const [letter, aql] of allCells) {
      expect(singlePlan('ISO 2859-1', severity, letter, aql)).toEqual(
        singlePlan('MIL-STD-105E', severity, letter, aql),
      );
    }
  });

  it('are not guessed for reduced inspection by ISO 2859-1', () => {
    for (const [letter, aql] of allCells) {
      expect(() => singlePlan('ISO 2859-1', 'reduced', letter, aql)).toThrowError(
        expect.objectContaining({ code: 'reduced-not-known' }),
      );
    }
  });

  it('have a gap between their numbers in reduced inspection only', () => {
    for (const [letter, aql] of allCells) {
      for (const severity of ['normal', 'tightened'] as const) {
        const { accept, reject } = singlePlan('MIL-STD-105E', severity, letter, aql);
        expect(reject).toBe(accept + 1);
      }
      const { accept, reject } = singlePlan('MIL-STD-105E', 'reduced', letter, aql);
      expect(reject).toBeGreaterThan(accept);
    }
  });

  it.each(['', '0.66', '1.00', '1'])('refuse AQL %j', (aql) => {
    for (const standard of STANDARDS) {
      expect(() => singlePlan(standard, 'normal', 'K', aql)).toThrowError(
        expect.objectContaining({ code: 'aql-unknown' }),
      );
    }
  });
});
