import { expect, it } from 'vitest';
import { outlookSentence, tallyWords } from '../../core/inspection/standingWords.ts';
import { planFor } from '../../core/sampling/plan.ts';
import { planSentence, planSource } from '../../core/sampling/planWords.ts';
import { studyChoice } from '../../core/study/studyPlan.ts';
import { readyRun } from '../core/inspection/walk.ts';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const EMPTY = readyRun();

it('says how far the sample is, in words a newcomer takes the right way', () => {
  const tally = { ...EMPTY.tally, counted: 41, pass: 40, failLow: 1, nonconforming: 1, voided: 2, suspect: 3 };
  const said = (accept: number) =>
    tallyWords({ ...EMPTY, tally, plan: planFor(5000, { kind: 'agreed', sampleSize: 80, accept }) });
  expect(said(2)).toEqual({ measured: '41 of 80 measured', found: '1 nonconforming, the plan accepts up to\u00a02' });
  expect(said(0).found).toBe('1 nonconforming, the plan accepts none');
});

it('says how many were decided on condition, and which way', () => {
  const tally = {
    ...EMPTY.tally,
    counted: 41,
    pass: 37,
    conditionalPass: 2,
    conditionalFailLow: 1,
    failHigh: 1,
    nonconforming: 2,
  };
  const plan = planFor(5000, { kind: 'agreed', sampleSize: 41, accept: 2 });
  expect(plain(outlookSentence({ ...EMPTY, tally, plan }))).toBe(
    '41 of 41 pieces measured, 2 nonconforming, 2 pass on condition, 1 fail on condition. The plan accepts up to 2: the lot may be accepted.',
  );
});

it('says of a study what is to be read, and nothing of the lot', () => {
  const choice = studyChoice.parse({
    kind: 'study',
    design: 'crossed',
    pieces: 10,
    operators: ['A', 'B', 'C'],
    repeats: 3,
    seed: 7,
  });
  const plan = planFor(100, choice);
  expect(plain(planSentence(plan, 100))).toBe('Take 90 readings, turn by turn.');
  expect(plain(planSource(plan))).toBe('Study of the measurement, crossed: 10 pieces × 3 operators × 3 repeats');
  expect(plain(outlookSentence({ ...EMPTY, tally: { ...EMPTY.tally, counted: 90 }, plan }))).toBe(
    '90 of 90 turns read. A study says nothing of the lot.',
  );
});
