import { describe, expect, it } from 'vitest';
import { checked } from '../../../core/contract/invalid.ts';
import { planClaim } from '../../../core/inspection/planClaim.ts';
import { Problem } from '../../../core/problem/problem.ts';

/** What is said of a plan that is none. */
function said(plan: unknown): string {
  try {
    checked('lot.json', planClaim, plan);
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown.what;
    throw thrown;
  }
  throw new Error('the plan was taken for good');
}

describe('what is wrong with one of several forms', () => {
  it.each([
    [{ aql: 1 }, '"aql" is a number, expected text'],
    [{ aql: '1.0', level: 'X' }, '"level" Invalid option'],
    [{ aql: '1.0', Level: 'II' }, '"Level" is not a field'],
    [{ zeroAcceptance: { refusedPercent: 1 } }, '"zeroAcceptance.refusedPercent" is a number, expected text'],
    [{ twoPoint: { acceptedPercent: '1' } }, '"twoPoint.producerRiskPercent" is missing'],
    [{ sampleSize: 2.5, accept: 0 }, '"sampleSize" expected a whole number of pieces'],
    [{ sampleSize: 5 }, '"accept" expected a whole number of pieces'],
    [{ variables: { aql: '1.0', severity: 'reduced' } }, '"variables.severity" Invalid option'],
  ])('is the fault of the one that is meant: %j', (plan, words) => expect(said(plan)).toContain(words));

  it.each([[{}], [null], [{ aql: 1, sampleSize: 5 }]])(
    'is that none fits where none is meant for certain: %j',
    (plan) => expect(said(plan)).toContain('expected { "aql": "1.0"'),
  );
});
