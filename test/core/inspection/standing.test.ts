import { describe, expect, it } from 'vitest';
import { decide } from '../../../core/inspection/decide.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { outlook, standingOf } from '../../../core/inspection/outlook.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { certainWords, outlookSentence, tallyWords } from '../../../core/inspection/standingWords.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { decidedRun, OVERLOAD, readyRun, timeAt, walk, wholeRound, withReadings } from './walk.ts';

const [GOOD, LOW, WRONG] = ['+4.70213E+03', '4600.0', '+2.20000E+03'];
const times = (count: number, raw: string) => Array<string>(count).fill(raw);

/** Readings one after the other, with the checks that come due between. */
function measured(run: Run, raws: readonly string[]): Run {
  let now = run;
  for (const raw of raws) {
    if (now.readings.size > 0 && now.readings.size % 40 === 0) now = wholeRound(now);
    now = withReadings(now, raw);
  }
  return now;
}

const DOUBLE: Partial<LotClaimInput> = {
  lot: { number: 'L-1', size: 75 },
  plan: { aql: '4.0', sampling: 'double' },
};

// MIL-STD-105E, Table III-A, letter E, AQL 4.0: 8 and 8 pieces, (0, 2) and (1, 2).
describe('double sampling', () => {
  it('decides after the first sample where its numbers say so', () => {
    const none = measured(readyRun(DOUBLE), times(8, GOOD));
    expect(standingOf(none)).toMatchObject({ outlook: 'accept', wanted: 8, further: false });
    const two = measured(readyRun(DOUBLE), [GOOD, LOW, LOW]);
    expect(standingOf(two)).toMatchObject({ outlook: 'not-accept', wanted: 8 });
  });

  it('takes the second sample between them, and both together decide', () => {
    const open = measured(readyRun(DOUBLE), [...times(7, GOOD), LOW]);
    expect(standingOf(open)).toMatchObject({ outlook: 'undecided', wanted: 16, further: true, certain: null });
    expect(tallyWords(open).measured).toBe('8 of 16 measured, further pieces included');
    expect(outlook(measured(open, times(8, GOOD)))).toBe('accept');
    expect(outlook(measured(open, [GOOD, LOW]))).toBe('not-accept');
  });

  it('asks for the first sample again where one of its readings is made void', () => {
    const open = measured(readyRun(DOUBLE), [...times(7, GOOD), LOW]);
    const voided = walk(open, { type: 'void-reading', reading: 8, by: 'B', reason: 'slipped' });
    expect(standingOf(voided)).toMatchObject({ outlook: 'undecided', wanted: 8 });
    expect(outlook(withReadings(voided, GOOD))).toBe('accept');
  });

  it('is one sample where the lot has no two in it', () => {
    const { plan } = readyRun({
      ...DOUBLE,
      lot: { number: 'L-1', size: 9 },
      plan: { aql: '6.5', sampling: 'double', level: 'III' },
    });
    expect(plan.further).toBeNull();
  });
});

// MIL-STD-105E, Table II-C, letter K, AQL 1.0: 50 pieces, Ac 1, Re 4; 4.7.4 b: between them the lot is accepted.
it('accepts a lot in the gap of reduced inspection, and not from its upper end on', () => {
  const reduced: Partial<LotClaimInput> = {
    lot: { number: 'L-1', size: 3000 },
    plan: { aql: '1.0', severity: 'reduced', override: { by: 'Q. Lead', reason: 'ten good lots' } },
  };
  const begun = readyRun(reduced);
  expect(begun.plan).toMatchObject({ sampleSize: 50, accept: 1, reject: 4 });
  expect(outlook(measured(begun, [...times(3, LOW), ...times(47, GOOD)]))).toBe('accept');
  expect(outlook(measured(begun, times(4, LOW)))).toBe('not-accept');
});

describe('pieces of class A', () => {
  const claim = (over: LotClaimInput['classA']) => ({ plan: { sampleSize: 20, accept: 9 }, classA: over });

  it('are open, short and wrong values, and none is accepted unless the lot says so', () => {
    for (const raw of [WRONG, OVERLOAD, '+1.0E-01', '4957', '4430']) {
      const run = withReadings(readyRun(claim({})), raw);
      expect(run.tally, raw).toMatchObject({ nonconforming: 1, classA: raw === '4957' || raw === '4430' ? 0 : 1 });
    }
    expect(outlook(withReadings(readyRun(claim({})), WRONG))).toBe('not-accept');
    expect(outlook(withReadings(readyRun(claim({})), LOW))).toBe('undecided');
    expect(outlook(withReadings(readyRun(claim({ accept: 1 })), WRONG))).toBe('undecided');
    expect(outlook(withReadings(readyRun(claim({ accept: 1 })), WRONG, OVERLOAD))).toBe('not-accept');
    expect(outlook(withReadings(readyRun(claim(null)), WRONG))).toBe('undecided');
  });

  it('begin beyond the share that is given, exactly', () => {
    // The window is 4653 to 4747 Ω: 2 % beyond the upper limit is 4841.94 Ω, below the lower 4559.94 Ω.
    const of = (raw: string) => withReadings(readyRun(claim({ beyondPercent: '2' })), raw).tally.classA;
    expect([of('4841.94'), of('4841.95'), of('4559.94'), of('4559.93')]).toEqual([0, 1, 0, 1]);
  });

  it('do not count any more when the reading is made void', () => {
    const run = walk(withReadings(readyRun(claim({})), WRONG), {
      type: 'void-reading',
      reading: 1,
      by: 'B',
      reason: 'wrong piece',
    });
    expect(run.tally.classA).toBe(0);
    expect(outlook(run)).toBe('undecided');
    expect(outlookSentence(withReadings(readyRun(claim({})), WRONG))).toContain('Of open, short and wrong values');
  });
});

describe('measuring ends', () => {
  const plan = { sampleSize: 5, accept: 1 };

  it('as soon as the lot cannot be accepted, and says what is certain before', () => {
    const run = withReadings(readyRun({ plan, stopping: 'when-refused' }), GOOD, GOOD, GOOD, GOOD);
    expect(standingOf(run)).toMatchObject({ outlook: 'undecided', certain: 'accept' });
    expect(certainWords(run)).toContain('will be accepted');
    expect(outlook(withReadings(readyRun({ plan }), LOW, LOW))).toBe('not-accept');
  });

  it('as soon as either is certain, where the lot says so', () => {
    const run = readyRun({ plan, stopping: 'when-certain' });
    expect(outlook(withReadings(run, GOOD, GOOD, GOOD))).toBe('undecided');
    expect(outlook(withReadings(run, GOOD, GOOD, GOOD, GOOD))).toBe('accept');
  });

  it('with the sample only, where it is completed anyway', () => {
    const run = withReadings(readyRun({ plan, stopping: 'never' }), LOW, LOW, LOW);
    expect(standingOf(run)).toMatchObject({ outlook: 'undecided', certain: 'not-accept' });
    expect(certainWords(run)).toContain('will not be accepted');
    expect(outlook(withReadings(run, GOOD, GOOD))).toBe('not-accept');
  });

  it('never early by certain acceptance while a piece of class A may come', () => {
    const run = withReadings(readyRun({ plan, stopping: 'when-certain', classA: {} }), GOOD, GOOD, GOOD, GOOD);
    expect(standingOf(run)).toMatchObject({ outlook: 'undecided', certain: null });
  });
});

describe('by mean and spread', () => {
  const claim: Partial<LotClaimInput> = {
    lot: { number: 'L-1', size: 3000 },
    plan: {
      variables: { acceptedPercent: '1', producerRiskPercent: '5', refusedPercent: '6', consumerRiskPercent: '10' },
    },
  };
  /** The quantiles of a normal sample around a mean, in ohms, by a spread. */
  const normal = (count: number, mean: number, spread: number) =>
    Array.from({ length: count }, (_, index) => {
      const share = (index + 0.5) / count;
      // Hastings' approximation of the normal quantile (Abramowitz and Stegun 26.2.23), good to 4.5e-4.
      const t = Math.sqrt(-2 * Math.log(Math.min(share, 1 - share)));
      const z =
        t - (2.515517 + 0.802853 * t + 0.010328 * t * t) / (1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3);
      return (mean + (share < 0.5 ? -z : z) * spread).toFixed(2);
    });

  it('takes as many pieces as the two points need: n 42, counting 110 with Ac 3 (check values, R packages)', () => {
    const { plan } = readyRun(claim);
    expect(plan).toMatchObject({
      sampleSize: 42,
      further: { kind: 'attributes', sampleSize: 68, accept: 3, reject: 4 },
    });
    expect(Number(plan.variables?.k)).toBeGreaterThan(1.897562);
    expect(Number(plan.variables?.k)).toBeLessThan(1.905285);
  });

  it('accepts a lot well inside and not one whose spread reaches out', () => {
    const inside = measured(readyRun(claim), normal(42, 4700, 15));
    expect(standingOf(inside)).toMatchObject({ outlook: 'accept', further: false });
    expect(standingOf(inside).why).toContain('Mean 4.7');
    const wide = measured(readyRun(claim), normal(42, 4700, 30));
    expect(outlook(wide)).toBe('not-accept');
    const low = measured(readyRun(claim), normal(42, 4670, 15));
    expect(outlook(low)).toBe('not-accept');
  });

  it('counts instead where the values do not look normal, and says so', () => {
    const two = normal(42, 4700, 3).map((raw, index) =>
      index % 2 ? (Number(raw) + 25).toFixed(2) : (Number(raw) - 25).toFixed(2),
    );
    const run = measured(readyRun(claim), two);
    const standing = standingOf(run);
    expect(standing).toMatchObject({ outlook: 'undecided', wanted: 110, further: true });
    expect(standing.why).not.toBeNull();
    expect(outlook(measured(run, times(68, GOOD)))).toBe('accept');
  });

  it('counts instead where a piece has no value', () => {
    const run = measured(readyRun({ ...claim, classA: { accept: 1 } }), [OVERLOAD, ...normal(41, 4700, 15)]);
    expect(standingOf(run)).toMatchObject({ outlook: 'undecided', wanted: 110 });
    expect(standingOf(run).why).toContain('open');
  });
});

describe('deciding against the plan', () => {
  const bad = () => wholeRound(withReadings(readyRun(), LOW, LOW));
  const refusalOf = (run: Run, command: Parameters<typeof decide>[1]) => {
    const result = decide(run, command, timeAt(900));
    return result instanceof Problem ? result.code : null;
  };
  const accepting = (approvedBy: string | null, reason = 'the line waits') =>
    ({ type: 'decide-lot', disposition: 'accepted', by: 'Ines Okoro', reason, approvedBy }) as const;

  it('needs a reason and a second person to accept', () => {
    expect(refusalOf(bad(), accepting(null))).toBe('approval-missing');
    expect(refusalOf(bad(), accepting('R. Adeyemi', ''))).toBe('reason-missing');
    expect(refusalOf(bad(), accepting('ines  okoro.'))).toBe('approval-by-same-person');
    expect(walk(bad(), accepting('R. Adeyemi')).decided).toMatchObject({
      disposition: 'accepted',
      approvedBy: 'R. Adeyemi',
    });
    const good = wholeRound(withReadings(readyRun(), ...times(5, GOOD)));
    expect(refusalOf(good, accepting('R. Adeyemi'))).toBe('approval-not-needed');
  });

  it('needs a reason not to accept a lot that may be accepted', () => {
    const good = wholeRound(withReadings(readyRun(), ...times(5, GOOD)));
    const refusing = (reason: string) =>
      ({ type: 'decide-lot', disposition: 'not-accepted', by: 'Ines Okoro', reason }) as const;
    expect(refusalOf(good, refusing(''))).toBe('reason-missing');
    expect(walk(good, refusing('bent leads')).decided?.disposition).toBe('not-accepted');
  });

  it('is corrected by a new event; the decision before stays in the history', () => {
    const decided = decidedRun(withReadings(readyRun(), LOW, LOW), 'not-accepted');
    const corrected = walk(decided, {
      type: 'correct-decision',
      disposition: 'accepted',
      by: 'Q. Lead',
      reason: 'used at reduced rating',
      approvedBy: 'R. Adeyemi',
    });
    expect(corrected.decided).toMatchObject({ disposition: 'accepted', firstAt: decided.decided?.at });
    expect(corrected.history.last()).toMatchObject({ kind: 'decision-corrected', was: decided.decided });
    const again = { type: 'correct-decision', by: 'Q. Lead', reason: 'r', disposition: 'accepted' } as const;
    expect(refusalOf(corrected, { ...again, approvedBy: 'R. Adeyemi' })).toBe('correction-changes-nothing');
    expect(refusalOf(readyRun(), again)).toBe('nothing-to-correct');
  });

  it('corrects what was typed wrong of the lot, and keeps what it was', () => {
    const run = walk(readyRun(), { type: 'correct-fact', fact: 'lot number', is: 'L-2094', by: 'B', reason: 'typo' });
    expect(run.lot.number).toBe('L-2094');
    expect(run.history.last()).toMatchObject({ kind: 'fact-corrected', was: 'L-2093', is: 'L-2094' });
    const empty = { type: 'correct-fact', fact: 'lot number', is: ' ', by: 'B', reason: 'typo' } as const;
    expect(refusalOf(run, empty)).toBe('lot-number-missing');
    expect(refusalOf(run, { ...empty, is: 'L-2094' })).toBe('correction-changes-nothing');
  });
});
