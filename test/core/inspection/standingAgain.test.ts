import { describe, expect, it } from 'vitest';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { outlook, standingOf } from '../../../core/inspection/outlook.ts';
import { nextPiece, type Run } from '../../../core/inspection/run.ts';
import { outlookSentence, tallyWords } from '../../../core/inspection/standingWords.ts';
import { OVERLOAD, readyRun, walk, withReadings } from './walk.ts';

const [GOOD, LOW, WRONG] = ['+4.70213E+03', '4600.0', '+2.20000E+03'];
const times = (count: number, raw: string) => Array<string>(count).fill(raw);

function voided(run: Run, ...readings: number[]): Run {
  return readings.reduce(
    (now, reading) => walk(now, { type: 'void-reading', reading, by: 'B', reason: 'slipped' }),
    run,
  );
}

// MIL-STD-105E, Table III-A, letter E, AQL 4.0: 8 and 8 pieces, (0, 2) and (1, 2).
describe('a first sample of which pieces are measured again while the second is', () => {
  const claim: Partial<LotClaimInput> = { lot: { number: 'L-1', size: 75 }, plan: { aql: '4.0', sampling: 'double' } };
  const begun = withReadings(readyRun(claim), LOW, ...times(9, GOOD));

  it('decides nothing while it is not whole, however many pieces of both there are', () => {
    const run = voided(begun, 1, 2);
    expect(run.tally).toMatchObject({ counted: 8, nonconforming: 0 });
    expect(standingOf(run)).toMatchObject({ outlook: 'undecided', certain: null });
    expect(nextPiece(run)).toBe(1);
    expect(tallyWords(run).measured).toBe('8 of 10 measured');
  });

  it('accepts by its own numbers, and says so', () => {
    const run = withReadings(voided(begun, 1), GOOD);
    expect(standingOf(run)).toMatchObject({ outlook: 'accept', wanted: 10 });
    expect(outlookSentence(run)).toContain('The first sample alone decides: 0 of its 8 pieces do not conform.');
  });

  it('refuses by its own numbers', () => {
    expect(outlook(withReadings(voided(begun, 2), LOW))).toBe('not-accept');
  });

  it('goes on with the second sample where it still lies between', () => {
    const run = withReadings(voided(begun, 2), GOOD);
    expect(standingOf(run)).toMatchObject({ outlook: 'undecided', wanted: 16, further: true });
    expect(outlook(withReadings(run, ...times(6, GOOD)))).toBe('accept');
  });

  it('is not made worse by what the second sample showed, nor better', () => {
    // The 10th piece does not conform, so both together are refused; without the first one the second was never wanted.
    const refused = withReadings(readyRun(claim), LOW, ...times(8, GOOD), LOW);
    expect(outlook(refused)).toBe('not-accept');
    const again = voided(refused, 1);
    expect(outlook(again)).toBe('undecided');
    expect(outlook(withReadings(again, GOOD))).toBe('accept');
    expect(outlook(withReadings(again, LOW))).toBe('not-accept');
  });

  it('refuses for a piece of class A of either sample', () => {
    const run = withReadings(voided(withReadings(readyRun({ ...claim, classA: {} }), LOW, ...times(8, GOOD)), 1), GOOD);
    expect(outlook(run)).toBe('accept');
    const wrong = withReadings(readyRun({ ...claim, classA: {} }), LOW, ...times(8, GOOD), WRONG);
    expect(outlook(voided(wrong, 1))).toBe('not-accept');
  });
});

describe('a sample by mean and spread whose open piece was none', () => {
  const claim: Partial<LotClaimInput> = {
    lot: { number: 'L-1', size: 100 },
    plan: {
      variables: {
        acceptedPercent: '1',
        producerRiskPercent: '5',
        refusedPercent: '20',
        consumerRiskPercent: '10',
        knownSpread: '0.1 %',
      },
    },
  };
  const { sampleSize } = readyRun(claim).plan;
  const begun = withReadings(readyRun(claim), OVERLOAD, ...times(sampleSize, GOOD));

  it('is counted while it is open, and decides by mean and spread when it is measured again', () => {
    expect(begun.plan.further?.kind).toBe('attributes');
    expect(standingOf(begun)).toMatchObject({ outlook: 'undecided', further: true });
    const again = voided(begun, 1);
    expect(again.tally.counted).toBe(sampleSize);
    expect(standingOf(again)).toMatchObject({ outlook: 'undecided', further: false, why: null });
    const run = withReadings(again, GOOD);
    expect(standingOf(run)).toMatchObject({ outlook: 'accept', further: false, wanted: sampleSize + 1 });
    expect(outlook(withReadings(again, OVERLOAD))).toBe('undecided');
  });

  it('does not accept where a further piece was of class A', () => {
    const wrong = withReadings(
      readyRun({ ...claim, classA: { accept: 1 } }),
      OVERLOAD,
      ...times(sampleSize - 1, GOOD),
      WRONG,
    );
    expect(outlook(wrong)).toBe('not-accept');
    expect(outlook(withReadings(voided(wrong, 1), GOOD))).toBe('accept');
    const two = voided(withReadings(readyRun({ ...claim, classA: {}, stopping: 'never' }), OVERLOAD), 1);
    expect(outlook(withReadings(two, WRONG, ...times(sampleSize - 1, GOOD)))).toBe('not-accept');
  });
});
