import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, fold } from '../../../core/inspection/apply.ts';
import { type Command, decide, mustTakeReadings } from '../../../core/inspection/decide.ts';
import { type InspectionEvent, inspectionEvent } from '../../../core/inspection/event.ts';
import { outlook } from '../../../core/inspection/outlook.ts';
import { counts, nextPiece, type Run, stepOf } from '../../../core/inspection/run.ts';
import type { Tally } from '../../../core/inspection/tally.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { mostPieces } from '../../../core/sampling/plan.ts';
import { VERDICTS, type Verdict } from '../../../core/window/judge.ts';
import { anyCommand, anyTerms, DECIDED } from './anyCommand.ts';
import {
  CAUTIONS,
  confirmedRun,
  decidedRun,
  factsOfClaim,
  goodCheck,
  METER,
  readyRun,
  timeAt,
  walk,
  wholeRound,
  withReadings,
} from './walk.ts';

const GOOD = '+4.70213E+03';
const LOW = '4652.99';
const HIGH = '4747.01';
const OPEN = '+9.90000000E+37';

const reading = (raw: string): Command => ({ type: 'record-reading', measured: { raw } });
const voiding = (number: number): Command => ({
  type: 'void-reading',
  reading: number,
  by: 'Ines Okoro',
  reason: 'probe slipped',
});
const deciding = (disposition: 'accepted' | 'not-accepted' | 'on-hold', reason = ''): Command => ({
  type: 'decide-lot',
  disposition,
  by: 'Ines Okoro',
  reason,
});

/** The problem a command meets; a test fails where it meets none. */
function refusal(run: Run | null, command: Command): Problem {
  const result = decide(run, command, timeAt(999));
  if (!(result instanceof Problem)) throw new Error(`not refused: ${JSON.stringify(result)}`);
  return result;
}

describe('a run', () => {
  it('begins with a lot and goes through the steps of the job', () => {
    const received = walk(null, { type: 'receive-lot', facts: factsOfClaim() });
    expect(stepOf(received)).toBe('ready');
    const connected = walk(received, { type: 'connect-meter', meter: METER });
    expect(stepOf(connected)).toBe('ready');
    const confirmed = walk(connected, { type: 'confirm-bench', by: 'Ines Okoro', cautions: CAUTIONS });
    expect(stepOf(confirmed)).toBe('ready');
    const ready = wholeRound(confirmed);
    expect(stepOf(ready)).toBe('measure');
    const measured = withReadings(ready, GOOD, GOOD, LOW, GOOD, GOOD);
    expect(stepOf(measured)).toBe('ready');
    const closed = wholeRound(measured);
    expect(stepOf(closed)).toBe('decide');
    const decided = walk(closed, deciding('accepted'));
    expect(stepOf(decided)).toBe('certify');
    expect(walk(decided, { type: 'note-certificate', file: 'c.csv', sha256: 'ab' }).certificates).toHaveLength(1);
  });

  it('gives each verdict and counts it', () => {
    const run = withReadings(readyRun({ plan: { sampleSize: 20, accept: 9 } }), GOOD, LOW, HIGH, OPEN, '4653', '4747');
    expect(run.readings.slice().map(({ verdict }) => verdict)).toEqual([
      'pass',
      'fail-low',
      'fail-high',
      'open',
      'pass',
      'pass',
    ]);
    expect(run.tally).toEqual({
      counted: 6,
      pass: 3,
      conditionalPass: 0,
      conditionalFailLow: 0,
      conditionalFailHigh: 0,
      failLow: 1,
      failHigh: 1,
      open: 1,
      nonconforming: 3,
      classA: 0,
      voided: 0,
      suspect: 0,
    });
    expect(run.readings.get(0)).toMatchObject({ reading: 1, piece: 1, raw: GOOD, ohms: '4702.13' });
    expect(run.readings.get(3)).toMatchObject({ raw: OPEN, ohms: null });
  });

  // MIL-STD-105E, 4.9.1 (single sampling plan).
  it('is not accepted as soon as the rejection number is reached', () => {
    const one = withReadings(readyRun(), LOW);
    expect(outlook(one)).toBe('undecided');
    const two = withReadings(one, HIGH);
    expect(outlook(two)).toBe('not-accept');
    expect(refusal(two, reading(GOOD)).code).toBe('sample-complete');
    expect(refusal(two, deciding('accepted')).code).toBe('reason-missing');
    expect(refusal(two, deciding('accepted', 'the line waits')).code).toBe('approval-missing');
    expect(decidedRun(two, 'not-accepted').decided?.disposition).toBe('not-accepted');
  });

  it('is accepted when the sample is complete with no more than the acceptance number', () => {
    const four = withReadings(readyRun(), GOOD, GOOD, GOOD, OPEN);
    expect(refusal(four, deciding('accepted')).code).toBe('decision-against-plan');
    expect(refusal(four, deciding('not-accepted')).code).toBe('decision-against-plan');
    const five = withReadings(four, GOOD);
    expect(outlook(five)).toBe('accept');
    expect(refusal(five, deciding('not-accepted')).code).toBe('reason-missing');
    expect(refusal(five, reading(GOOD)).code).toBe('sample-complete');
    expect(decidedRun(five, 'accepted').decided?.disposition).toBe('accepted');
  });

  it('can be put on hold at any time, with a reason, and go on after', () => {
    const held = walk(withReadings(readyRun(), GOOD), deciding('on-hold', 'label unreadable'));
    expect(held.decided?.reason).toBe('label unreadable');
    expect(refusal(readyRun(), deciding('on-hold')).code).toBe('reason-missing');
    expect(refusal(held, reading(GOOD)).code).toBe('run-on-hold');
    expect(refusal(held, voiding(1)).code).toBe('run-on-hold');
    expect(refusal(held, { type: 'confirm-bench', by: 'B', cautions: CAUTIONS }).code).toBe('run-on-hold');
    // A complete sample does not decide a lot that somebody put on hold.
    const complete = walk(
      withReadings(readyRun(), GOOD, GOOD, GOOD, GOOD, GOOD),
      deciding('on-hold', 'bodies cracked'),
    );
    expect(refusal(complete, deciding('accepted')).code).toBe('run-on-hold');
    expect(refusal(held, { type: 'lift-hold', by: 'B', reason: '' }).code).toBe('reason-missing');
    expect(refusal(readyRun(), { type: 'lift-hold', by: 'B', reason: 'r' }).code).toBe('run-not-on-hold');
    const lifted = walk(held, { type: 'lift-hold', by: 'B', reason: 'label found' });
    expect(lifted.decided).toBeNull();
    const done = withReadings(lifted, GOOD, GOOD, GOOD, GOOD);
    expect(decidedRun(done, 'accepted').decided?.disposition).toBe('accepted');
  });

  it('is closed by its disposition', () => {
    const done = decidedRun(withReadings(readyRun(), LOW, LOW), 'not-accepted');
    for (const command of [
      reading(GOOD),
      voiding(1),
      deciding('accepted'),
      deciding('on-hold', 'second thoughts'),
      { type: 'connect-meter', meter: METER },
      { type: 'confirm-bench', by: 'B', cautions: CAUTIONS },
      goodCheck(done, 'meter'),
      { type: 'override-calibration', by: 'B', reason: 'r' },
    ] as Command[]) {
      expect(refusal(done, command).code, command.type).toBe('run-decided');
    }
    expect(decide(done, { type: 'interrupt', why: 'unplugged' }, timeAt(9))).toEqual([]);
    expect(decide(done, { type: 'expire-readiness', why: 'late' }, timeAt(9))).toEqual([]);
  });

  it('is ready at a real bench only when every caution was confirmed', () => {
    const connected = walk(
      null,
      { type: 'receive-lot', facts: factsOfClaim() },
      { type: 'connect-meter', meter: METER },
    );
    const confirm = (cautions: string[]): Command => ({ type: 'confirm-bench', by: 'B', cautions });
    for (const cautions of [[], ['all is well'], CAUTIONS.slice(1)]) {
      expect(refusal(connected, confirm(cautions)).code).toBe('cautions-unconfirmed');
    }
    expect(stepOf(wholeRound(walk(connected, confirm(CAUTIONS))))).toBe('measure');
  });

  it('keeps a void reading and has its piece measured again first', () => {
    let run = withReadings(readyRun(), GOOD, LOW, GOOD, GOOD);
    run = walk(run, voiding(3), voiding(2));
    expect(run.tally).toMatchObject({ counted: 2, failLow: 0, nonconforming: 0, voided: 2 });
    expect(run.readings.get(1)).toMatchObject({ raw: LOW, verdict: 'fail-low', voided: { reason: 'probe slipped' } });
    expect(nextPiece(run)).toBe(2);
    run = withReadings(run, GOOD);
    expect(nextPiece(run)).toBe(3);
    run = withReadings(run, GOOD);
    expect(nextPiece(run)).toBe(5);
    expect(run.readings.slice().map(({ piece }) => piece)).toEqual([1, 2, 3, 4, 2, 3]);
  });

  it('goes back to measuring when a reading of a complete sample is made void', () => {
    const run = walk(withReadings(readyRun(), GOOD, GOOD, GOOD, GOOD, GOOD), voiding(5));
    expect(outlook(run)).toBe('undecided');
    expect(nextPiece(run)).toBe(5);
  });

  it('pauses while it is interrupted and goes on with all its readings', () => {
    let run = walk(withReadings(readyRun(), GOOD), { type: 'interrupt', why: 'unplugged' });
    expect(refusal(run, reading(GOOD)).code).toBe('run-interrupted');
    expect(() => mustTakeReadings(run, timeAt(9))).toThrowError(expect.objectContaining({ code: 'run-interrupted' }));
    expect(decide(run, { type: 'interrupt', why: 'again' }, timeAt(9))).toEqual([]);
    run = walk(run, { type: 'continue' });
    expect(decide(run, { type: 'continue' }, timeAt(9))).toEqual([]);
    expect(refusal(run, reading(GOOD)).code, 'its bench is to be shown ready anew').toBe('run-not-ready');
    expect(withReadings(wholeRound(run), GOOD).tally.counted).toBe(2);
  });

  it('takes no reading that could not count', () => {
    const received = walk(null, { type: 'receive-lot', facts: factsOfClaim() });
    expect(refusal(received, reading(GOOD)).code).toBe('run-not-ready');
    expect(refusal(received, { type: 'confirm-bench', by: 'B', cautions: CAUTIONS }).code).toBe('meter-missing');
    const connected = walk(received, { type: 'connect-meter', meter: METER });
    expect(refusal(connected, reading(GOOD)).code).toBe('run-not-ready');
    expect(refusal(connected, { type: 'confirm-bench', by: 'B', cautions: [] }).code).toBe('cautions-unconfirmed');
    expect(refusal(wholeRound(connected), reading(GOOD)).code).toBe('run-not-ready');
    expect(refusal(confirmedRun(), reading(GOOD)).code).toBe('run-not-ready');
    expect(refusal(readyRun(), reading('4700 ohms')).code).toBe('answer-unreadable');
    expect(refusal(readyRun(), reading('9.91E37')).code).toBe('answer-not-a-number');
    expect(refusal(readyRun(), reading('-4700')).code).toBe('reading-negative');
    expect(refusal(null, reading(GOOD)).code).toBe('run-unknown');
    expect(refusal(received, { type: 'receive-lot', facts: factsOfClaim() }).code).toBe('run-already-open');
  });

  it('asks for the bench to be confirmed again after the meter was connected anew', () => {
    const again = walk(withReadings(readyRun(), GOOD), { type: 'connect-meter', meter: METER });
    expect(refusal(again, reading(GOOD)).code).toBe('run-not-ready');
    const confirmed = walk(again, { type: 'confirm-bench', by: 'B', cautions: CAUTIONS });
    const names = confirmed.history.map((happening) => (happening.kind === 'confirmed' ? happening.by : null));
    expect(names.filter((name) => name !== null).toArray()).toEqual(['Ines Okoro', 'B']);
    expect(refusal(confirmed, reading(GOOD)).code).toBe('run-not-ready');
    expect(withReadings(wholeRound(confirmed), GOOD).tally.counted).toBe(2);
  });

  it('has readings of one meter only', () => {
    const other = { ...METER, identity: { ...METER.identity, text: 'Another,Meter,1,1' } };
    expect(refusal(withReadings(readyRun(), GOOD), { type: 'connect-meter', meter: other }).code).toBe('meter-other');
    expect(walk(readyRun(), { type: 'connect-meter', meter: other }).meter).toEqual(other);
  });

  it.each([
    [0, 'reading-unknown'],
    [-1, 'reading-unknown'],
    [3, 'reading-unknown'],
    [1.5, 'reading-unknown'],
    [Number.NaN, 'reading-unknown'],
    [2, 'reading-voided-already'],
  ])('cannot have reading %s made void: %s', (number, code) => {
    const run = walk(withReadings(readyRun(), GOOD, GOOD), voiding(2));
    expect(refusal(run, voiding(number)).code).toBe(code);
  });

  it('makes nothing void without a reason', () => {
    expect(refusal(withReadings(readyRun(), GOOD), { ...voiding(1), reason: '' } as Command).code).toBe(
      'reason-missing',
    );
  });

  it('has no certificate before it is decided', () => {
    expect(refusal(readyRun(), { type: 'note-certificate', file: 'c.csv', sha256: 'ab' }).code).toBe('run-undecided');
  });

  it('begins with lot-received and nothing else', () => {
    expect(fold([])).toBeNull();
    expect(() => apply(null, { type: 'run-continued', at: timeAt(0) })).toThrowError(/begins with lot-received/);
  });
});

/** Open, or further beyond a limit than the lot says of a wrong value, worked out apart from the code. */
function isGross({ classA, window }: Run, { ohms, verdict }: { ohms: string | null; verdict: string }): boolean {
  if (classA === null || verdict.endsWith('pass')) return false;
  if (ohms === null) return true;
  const share = new Big(classA.beyondPercent).div(100);
  const lowest = new Big(window.lower ?? '').times(new Big(1).minus(share));
  const highest = new Big(window.upper ?? '').times(new Big(1).plus(share));
  return new Big(ohms).lt(lowest) || new Big(ohms).gt(highest);
}

/** Counts the readings again, one by one. */
function recount(run: Run): Tally {
  const counting = run.readings.slice().filter(counts);
  const of = (verdict: string) => counting.filter((reading) => reading.verdict === verdict).length;
  return {
    counted: counting.length,
    pass: of('pass'),
    conditionalPass: of('conditional-pass'),
    conditionalFailLow: of('conditional-fail-low'),
    conditionalFailHigh: of('conditional-fail-high'),
    failLow: of('fail-low'),
    failHigh: of('fail-high'),
    open: of('open'),
    nonconforming: counting.filter(({ verdict }) => !verdict.endsWith('pass')).length,
    classA: counting.filter((reading) => isGross(run, reading)).length,
    voided: run.readings.slice().filter(({ voided }) => voided !== null).length,
    suspect: run.readings.slice().filter(({ suspect }) => suspect !== null).length,
  };
}

/** The verdict by the words of ILAC-G8:09/2019, 4.2.2 and 4.2.3, from the reading's own value and uncertainty. */
function mustFollowItsRule(
  { window, decision }: Run,
  taken: Extract<InspectionEvent, { type: 'reading-taken' }>,
): void {
  const { ohms, uncertainty, verdict } = taken;
  if (ohms === null) {
    expect(verdict).toBe('open');
    return;
  }
  const value = new Big(ohms);
  const [lower, upper] = [new Big(window.lower ?? ''), new Big(window.upper ?? '')];
  const guard = new Big(uncertainty?.expandedOhms ?? 0).times(decision.guardFactor);
  const inside = value.gte(lower) && value.lte(upper);
  const wellInside = value.gte(lower.plus(guard)) && value.lte(upper.minus(guard));
  const wellOutside = value.lt(lower.minus(guard)) || value.gt(upper.plus(guard));
  const side = value.lt(new Big(lower).plus(upper).div(2)) ? 'low' : 'high';
  const wanted = {
    'simple-acceptance': inside ? 'pass' : `fail-${side}`,
    'guard-band': wellInside ? 'pass' : `fail-${side}`,
    'non-binary': wellInside
      ? 'pass'
      : inside
        ? 'conditional-pass'
        : `${wellOutside && uncertainty ? '' : 'conditional-'}fail-${side}`,
  }[decision.rule];
  expect(verdict).toBe(wanted);
}

describe('whatever is asked of a run (property)', () => {
  it('it is never decided against its plan, and its state is the fold of its events', { timeout: 60_000 }, () => {
    let accepted = 0;
    let notAccepted = 0;
    let studied = 0;
    let approved = 0;
    const came = new Set<Verdict>();
    fc.assert(
      fc.property(anyTerms, fc.array(anyCommand, { maxLength: 60, size: 'max' }), (terms, commands) => {
        const facts = factsOfClaim(terms);
        const log: InspectionEvent[] = [{ type: 'lot-received', at: timeAt(0), facts }];
        let run = fold(log) as Run;
        run = walk(run, { type: 'connect-meter', meter: METER });
        log.push({ type: 'meter-connected', at: timeAt(0), meter: METER });

        const all = [...commands, DECIDED].flatMap((asked) => asked(run));
        for (const [index, asked] of all.entries()) {
          const before = JSON.stringify(run);
          const result = decide(run, asked, timeAt(index));
          expect(JSON.stringify(run), 'deciding changes nothing').toBe(before);
          if (result instanceof Problem) continue;
          for (const event of result) {
            expect(inspectionEvent.safeParse(event).error).toBeUndefined();
            const wasFinal = run.decided !== null && run.decided.disposition !== 'on-hold';
            if (wasFinal) {
              const allowed = ['run-continued', 'certificate-written', 'decision-corrected', 'facts-corrected'];
              expect(allowed).toContain(event.type);
            }
            if (event.type === 'reading-taken') {
              expect(event.reading).toBe(run.readings.size + 1);
              expect(outlook(run)).toBe('undecided');
              expect(run.decided, 'nothing is measured on hold').toBeNull();
              const sameBefore = run.readings
                .slice()
                .filter((reading) => reading.piece === event.piece && counts(reading));
              expect(sameBefore.length, 'a piece counts once').toBe(0);
              mustFollowItsRule(run, event);
              came.add(event.verdict);
            }
            run = apply(run, event);
            log.push(event);
          }

          const tally = recount(run);
          expect(run.tally).toEqual(tally);
          const { plan, decided, classA } = run;
          expect(tally.counted).toBeLessThanOrEqual(mostPieces(plan));
          const tooMany = tally.nonconforming >= plan.reject || (classA !== null && tally.classA > classA.accept);
          const single = plan.further === null && plan.choice.kind !== 'study';
          if (single && tooMany && run.stopping !== 'never') expect(outlook(run)).toBe('not-accept');
          if (decided?.disposition === 'accepted' && single) {
            accepted += 1;
            if (decided.approvedBy === null) {
              if (run.stopping !== 'when-certain') expect(tally.counted).toBe(plan.sampleSize);
              const left = plan.sampleSize - tally.counted;
              expect(tally.nonconforming + left, 'whatever the rest reads').toBeLessThan(plan.reject);
              if (classA) expect(tally.classA + left).toBeLessThanOrEqual(classA.accept);
            } else {
              approved += 1;
              expect(tooMany).toBe(true);
              expect(decided.approvedBy).not.toBe(decided.by);
              expect(decided.reason).not.toBe('');
            }
          }
          if (decided?.disposition === 'not-accepted' && single) {
            notAccepted += 1;
            if (!tooMany) expect(decided.reason, 'a lot that may be accepted is refused with a reason').not.toBe('');
          }
          if (decided?.disposition === 'studied') {
            studied += 1;
            expect(plan.choice.kind).toBe('study');
            expect(tally.counted).toBe(plan.sampleSize);
          } else if (decided && decided.disposition !== 'on-hold') {
            expect(plan.choice.kind).not.toBe('study');
          }
          if (decided?.disposition === 'on-hold') expect(decided.reason).not.toBe('');
        }

        expect(JSON.stringify(fold(log))).toBe(JSON.stringify(run));
        const pieces = run.readings
          .slice()
          .filter(counts)
          .map(({ piece }) => piece);
        expect(new Set(pieces).size).toBe(pieces.length);
        if (run.again.length === 0)
          expect(pieces.toSorted((a, b) => a - b)).toEqual(pieces.map((_, place) => place + 1));
      }),
      { numRuns: 400 },
    );
    // The walk must have come where it is judged.
    for (const [ended, times] of Object.entries({ accepted, notAccepted, studied, approved })) {
      expect(times, ended).toBeGreaterThan(0);
    }
    expect([...came].sort()).toEqual([...VERDICTS].sort());
  });
});
