import { describe, expect, it } from 'vitest';
import { CODE_LETTERS } from '../../../core/sampling/codeLetter.ts';
import { type DoublePlan, doublePlan } from '../../../core/sampling/doublePlan.ts';
import { chanceOfAcceptance, qualityAccepted } from '../../../core/sampling/oc.ts';
import { AQLS, SEVERITIES, type Severity, singlePlan } from '../../../core/sampling/singlePlan.ts';

type Cell = [letter: string, aql: string, used: string, size: number, first: string, second: string];

// MIL-STD-105E, Tables III-A, III-B, III-C, from memory; each cell was compared with the CRAN package AQLSchemes. The text of the
// standard itself was not reached. L at 1.5 is the example of that package's vignette, E at 4.0 that of the manual of the
// CRAN package AcceptanceSampling (there by AS 1199.1).
const CELLS: Record<Severity, Cell[]> = {
  normal: [
    ['L', '1.5', 'L', 125, '3/7', '8/9'],
    ['E', '4.0', 'E', 8, '0/2', '1/2'],
    ['B', '15', 'B', 2, '0/2', '1/2'],
    ['B', '10', 'C', 3, '0/2', '1/2'],
    ['K', '0.65', 'K', 80, '0/3', '3/4'],
    ['K', '1.0', 'K', 80, '1/4', '4/5'],
    ['K', '1.5', 'K', 80, '2/5', '6/7'],
    ['K', '4.0', 'K', 80, '5/9', '12/13'],
    ['K', '6.5', 'K', 80, '7/11', '18/19'],
    ['K', '10', 'K', 80, '11/16', '26/27'],
    ['K', '15', 'J', 50, '11/16', '26/27'],
    ['E', '150', 'E', 8, '17/22', '37/38'],
    ['E', '250', 'E', 8, '25/31', '56/57'],
    ['Q', '0.025', 'R', 1250, '0/2', '1/2'],
    ['R', '0.025', 'R', 1250, '0/2', '1/2'],
  ],
  tightened: [
    ['R', '0.025', 'S', 2000, '0/2', '1/2'],
    ['L', '0.65', 'L', 125, '0/3', '3/4'],
    ['L', '1.0', 'L', 125, '1/4', '4/5'],
    ['L', '1.5', 'L', 125, '2/5', '6/7'],
    ['L', '2.5', 'L', 125, '3/7', '11/12'],
    ['L', '4.0', 'L', 125, '6/10', '15/16'],
    ['L', '6.5', 'L', 125, '9/14', '23/24'],
    ['E', '150', 'E', 8, '15/20', '34/35'],
    ['E', '250', 'E', 8, '23/29', '52/53'],
    ['A', '15', 'C', 3, '0/2', '1/2'],
  ],
  reduced: [
    ['D', '10', 'D', 2, '0/3', '0/4'],
    ['J', '0.65', 'J', 20, '0/2', '0/2'],
    ['L', '0.40', 'L', 50, '0/3', '0/4'],
    ['L', '0.65', 'L', 50, '0/4', '1/5'],
    ['L', '1.0', 'L', 50, '0/4', '3/6'],
    ['L', '1.5', 'L', 50, '1/5', '4/7'],
    ['L', '2.5', 'L', 50, '2/7', '6/9'],
    ['L', '4.0', 'L', 50, '3/8', '8/12'],
    ['L', '6.5', 'L', 50, '5/10', '12/16'],
    ['E', '150', 'E', 3, '7/12', '18/22'],
    ['E', '400', 'D', 2, '11/17', '26/30'],
  ],
};

const numbers = ({ accept, reject }: DoublePlan['first']) => `${accept}/${reject}`;
const everyCell = SEVERITIES.flatMap((severity) =>
  [...CODE_LETTERS].flatMap((letter) => AQLS.map((aql) => [severity, letter, aql] as const)),
);

describe.each(SEVERITIES)('double plans for %s inspection', (severity) => {
  it.each(CELLS[severity])(
    'of letter %s at AQL %s: letter %s, twice %i, %s, then %s',
    (letter, aql, used, size, first, second) => {
      const plan = doublePlan(severity, letter, aql);
      if (plan.kind === 'single') throw new Error('there is a double plan in this cell');
      expect(plan.letter).toBe(used);
      expect([plan.first.sampleSize, plan.second.sampleSize]).toEqual([size, size]);
      expect([numbers(plan.first), numbers(plan.second)]).toEqual([first, second]);
    },
  );
});

describe('double plans', () => {
  // Asterisks of the tables: the single plan is to be used.
  it.each([
    ['normal', 'F', '0.65'],
    ['normal', 'G', '0.65'],
    ['normal', 'A', '25'],
    ['tightened', 'F', '1.0'],
    ['tightened', 'A', '40'],
    ['reduced', 'F', '0.65'],
    ['reduced', 'B', '25'],
    ['reduced', 'C', '10'],
  ] as const)('are not there for %s inspection, letter %s, AQL %s: the single one is used', (severity, letter, aql) =>
    expect(doublePlan(severity, letter, aql)).toEqual({
      kind: 'single',
      ...singlePlan('MIL-STD-105E', severity, letter, aql),
    }),
  );

  it('can be carried out and end', () => {
    for (const [severity, letter, aql] of everyCell) {
      const plan = doublePlan(severity, letter, aql);
      if (plan.kind === 'single') continue;
      const { first, second } = plan;
      expect(first.reject).toBeGreaterThan(first.accept + 1);
      expect(second.accept).toBeGreaterThanOrEqual(first.accept);
      expect(second.reject).toBeGreaterThanOrEqual(first.reject);
      if (severity !== 'reduced') expect(second.reject).toBe(second.accept + 1);
      else expect(second.reject).toBeGreaterThan(second.accept + 1);
    }
  });

  // MIL-STD-105E, 4.10 (from memory): double plans match the single ones of their cell as well as practicable. A slip in a number would
  // show here. How close they are is what we found, not published.
  it('decide much like the single plan of the same cell', () => {
    for (const [severity, letter, aql] of everyCell) {
      const double = doublePlan(severity, letter, aql);
      const single = singlePlan('MIL-STD-105E', severity, letter, aql);
      if (double.kind === 'single' || 8 * single.reject > single.sampleSize) continue;
      const twice = { ...double.first, further: { kind: 'second-sample' as const, ...double.second } };
      for (const chance of [0.95, 0.5, 0.1]) {
        const found = chanceOfAcceptance(twice, qualityAccepted(single, chance));
        expect(Math.abs(found - chance), `${severity} ${letter} ${aql}`).toBeLessThan(
          severity === 'reduced' ? 0.15 : 0.09,
        );
      }
    }
  });
});
