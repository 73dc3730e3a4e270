import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, fold } from '../../../core/inspection/apply.ts';
import { type Command, decide, mustTakeReadings } from '../../../core/inspection/decide.ts';
import { type InspectionEvent, inspectionEvent } from '../../../core/inspection/event.ts';
import { checkDue, nextPiece, type Run, stepOf } from '../../../core/inspection/run.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { CHECKS } from '../../../core/readiness/check.ts';
import { anyCommand, DECIDED } from '../inspection/anyCommand.ts';
import {
  badCheck,
  CAUTIONS,
  confirmedRun,
  decidedRun,
  factsOfClaim,
  goodCheck,
  METER,
  METER_DATA,
  readyRun,
  SIMULATED,
  timeAt,
  walk,
  wholeRound,
  withReadings,
} from '../inspection/walk.ts';

const GOOD = '+4.70213E+03';
const LOW = '4652.99';
const TEN = { plan: { sampleSize: 10, accept: 1 } };

/** The problem a command meets at this many seconds; a test fails where it meets none. */
function refusal(run: Run, command: Command, seconds = 20): Problem {
  const result = decide(run, command, timeAt(seconds));
  if (!(result instanceof Problem)) throw new Error(`not refused: ${JSON.stringify(result)}`);
  return result;
}

const reading: Command = { type: 'record-reading', measured: { raw: GOOD } };
const accepting: Command = { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: '' };
const answering: Command = { type: 'override-calibration', by: 'R. Adeyemi', reason: 'compared this morning' };

describe('a round of checks', () => {
  it('is done in its order, and none is passed over', () => {
    let run = confirmedRun();
    for (const [index, check] of CHECKS.entries()) {
      expect(checkDue(run)).toBe(check);
      expect(stepOf(run)).toBe('ready');
      expect(refusal(run, reading).code).toBe('run-not-ready');
      for (const later of CHECKS.slice(index + 1)) {
        expect(refusal(run, goodCheck(run, later)).code).toBe('check-out-of-order');
      }
      run = walk(run, goodCheck(run, check));
    }
    expect(checkDue(run)).toBeNull();
    expect(stepOf(run)).toBe('measure');
    expect(run.round).toEqual(CHECKS);
  });

  it('ends before a check that failed, which may be done again', () => {
    for (const [index, check] of CHECKS.entries()) {
      const run = walk(readyRun(), badCheck(confirmedRun(), check));
      expect(run.round).toEqual(CHECKS.slice(0, index));
      expect(refusal(run, reading).code).toBe('run-not-ready');
      const again = CHECKS.slice(index).reduce((now, next) => walk(now, goodCheck(now, next)), run);
      expect(withReadings(again, GOOD).tally.counted).toBe(1);
    }
  });

  it('has those after a check to be done again when it is done again, since they rest on it', () => {
    const run = walk(readyRun(), goodCheck(confirmedRun(), 'shorted-leads'));
    expect(run.round).toEqual(['meter', 'open-leads', 'shorted-leads']);
    expect(refusal(run, reading).code).toBe('run-not-ready');
  });

  it('is closed by readings: the next one begins with the first check', () => {
    const run = withReadings(readyRun(), GOOD);
    expect(refusal(run, goodCheck(run, 'shorted-leads'))).toMatchObject({
      code: 'check-out-of-order',
      what: expect.stringContaining('"meter" is due'),
    });
    const begun = walk(run, goodCheck(run, 'meter'));
    expect(refusal(begun, reading).code).toBe('run-not-ready');
    expect(withReadings(wholeRound(run), GOOD).tally.counted).toBe(2);
  });

  it('is not begun without a meter, on hold, or while the meter is away', () => {
    const received = fold([{ type: 'lot-received', at: timeAt(0), facts: factsOfClaim() }]) as Run;
    expect(refusal(received, goodCheck(received, 'meter')).code).toBe('meter-missing');
    const held = walk(readyRun(), { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    expect(refusal(held, goodCheck(held, 'meter')).code).toBe('run-on-hold');
    const away = walk(readyRun(), { type: 'interrupt', why: 'unplugged' });
    expect(refusal(away, goodCheck(away, 'meter')).code).toBe('run-interrupted');
  });
});

describe('what was shown of a bench', () => {
  it('is due again after as many readings as the lot says', () => {
    let run = readyRun({ ...TEN, checks: { everyReadings: 3 } });
    run = withReadings(run, GOOD, GOOD);
    expect(stepOf(run)).toBe('measure');
    run = withReadings(run, GOOD);
    expect(stepOf(run)).toBe('ready');
    expect(checkDue(run)).toBe('meter');
    expect(refusal(run, reading).code).toBe('readiness-expired');
    run = wholeRound(run);
    expect(stepOf(run)).toBe('measure');
    expect(withReadings(run, GOOD, GOOD, GOOD).tally.counted).toBe(6);
  });

  it('holds for as many minutes as the lot says, from its first check on', () => {
    const run = withReadings(readyRun({ checks: { everyMinutes: 30 } }), GOOD);
    const begun = (Date.parse(run.roundBegan ?? '') - Date.parse(timeAt(0))) / 1000;
    expect(() => mustTakeReadings(run, timeAt(begun + 29 * 60 + 59))).not.toThrow();
    for (const [seconds, why] of [
      [begun + 30 * 60, 'they hold for 30 minutes'],
      [begun - 1, 'the clock was set back'],
    ] as const) {
      expect(refusal(run, reading, seconds)).toMatchObject({
        code: 'readiness-expired',
        what: expect.stringContaining(why),
      });
    }
    // Nor can a round be finished that was begun too long ago; it is begun anew.
    const half = walk(confirmedRun({ checks: { everyMinutes: 30 } }), goodCheck(run, 'meter'));
    expect(refusal(half, goodCheck(half, 'open-leads'), 40 * 60).code).toBe('readiness-expired');
    expect(decide(half, goodCheck(half, 'meter'), timeAt(40 * 60))).toHaveLength(1);
  });

  it.each<[string, Command[]]>([
    ['it expired', [{ type: 'expire-readiness', why: 'function changed at the front panel' }]],
    ['the meter was away', [{ type: 'interrupt', why: 'unplugged' }, { type: 'continue' }]],
    [
      'the meter was connected anew',
      [
        { type: 'connect-meter', meter: METER },
        { type: 'confirm-bench', by: 'B', cautions: CAUTIONS },
      ],
    ],
  ])('holds no longer once %s, and the readings before are proven or not by the next round', (_, commands) => {
    const run = walk(withReadings(readyRun(), GOOD, GOOD), ...commands);
    expect(run.round).toEqual([]);
    expect(stepOf(run)).toBe('ready');
    expect(refusal(run, reading).code).toBe('run-not-ready');
    expect(run.tally).toMatchObject({ counted: 2, suspect: 0 });
    expect(wholeRound(run)).toMatchObject({ lastGood: 2, tally: { counted: 2, suspect: 0 } });
    expect(walk(run, badCheck(run, 'meter')).tally).toMatchObject({ counted: 0, suspect: 2 });
  });

  it('expires once, and not in a run that is closed', () => {
    const expired = walk(readyRun(), { type: 'expire-readiness', why: 'late' });
    expect(decide(expired, { type: 'expire-readiness', why: 'late' }, timeAt(9))).toEqual([]);
    const closed = walk(
      wholeRound(withReadings(readyRun(), LOW, LOW)),
      { type: 'interrupt', why: 'unplugged' },
      { type: 'decide-lot', disposition: 'not-accepted', by: 'B', reason: '' },
      { type: 'continue' },
    );
    expect(closed).toMatchObject({ round: CHECKS, interrupted: null });
  });
});

describe('a check that fails later', () => {
  it('makes every reading since the last whole round suspect, and their pieces are measured again', () => {
    let run = withReadings(wholeRound(withReadings(readyRun(TEN), GOOD, GOOD, GOOD)), GOOD, LOW, GOOD);
    run = walk(run, { type: 'void-reading', reading: 6, by: 'B', reason: 'probe slipped' });
    const at = timeAt(run.readings.size);
    run = walk(run, badCheck(run, 'meter'));
    expect(run.readings.slice().map(({ suspect }) => suspect !== null)).toEqual([
      false,
      false,
      false,
      true,
      true,
      false,
    ]);
    expect(run.readings.get(4)?.suspect).toEqual({ why: 'the check of the meter failed', at });
    expect(run.tally).toMatchObject({ counted: 3, nonconforming: 0, voided: 1, suspect: 2 });
    expect(run.again).toEqual([4, 5, 6]);
    run = wholeRound(run);
    expect(nextPiece(run)).toBe(4);
    run = withReadings(run, GOOD, GOOD, GOOD);
    expect(nextPiece(run)).toBe(7);
    expect(run.readings.slice().map(({ piece }) => piece)).toEqual([1, 2, 3, 4, 5, 6, 4, 5, 6]);
  });

  it('takes a complete sample back to measuring', () => {
    const complete = withReadings(readyRun(), GOOD, GOOD, GOOD, GOOD, GOOD);
    expect(refusal(complete, accepting).code).toBe('closing-check-missing');
    const failed = walk(walk(complete, goodCheck(complete, 'meter')), badCheck(complete, 'open-leads'));
    expect(failed.tally).toMatchObject({ counted: 0, suspect: 5 });
    expect(refusal(wholeRound(failed), accepting).code).toBe('decision-against-plan');
    const again = withReadings(wholeRound(failed), GOOD, GOOD, GOOD, GOOD, GOOD);
    expect(decidedRun(again, 'accepted').decided?.disposition).toBe('accepted');
  });

  it('leaves what earlier rounds stand behind alone', () => {
    const run = wholeRound(withReadings(readyRun(TEN), GOOD, GOOD));
    expect(walk(run, badCheck(run, 'reference')).tally).toMatchObject({ counted: 2, suspect: 0 });
  });

  it('has a suspect reading made void by nobody: it does not count already', () => {
    const run = withReadings(readyRun(), GOOD);
    const failed = walk(run, badCheck(run, 'meter'));
    expect(refusal(failed, { type: 'void-reading', reading: 1, by: 'B', reason: 'r' }).code).toBe(
      'reading-suspect-already',
    );
  });
});

describe('a reading', () => {
  it('in 2-wire is what the meter says less what the shorted leads showed, exactly', () => {
    const run = confirmedRun();
    const shown = ['+2.00E-01', '+2.10E-01', '+2.20E-01'].map((raw) => ({ what: '2-wire' as const, raw }));
    const zeroed = CHECKS.reduce((now, check) => {
      const command = goodCheck(now, check);
      if (check === 'shorted-leads') return walk(now, { ...command, shown });
      return walk(now, check === 'reference' ? { ...command, shown: [{ what: '2-wire', raw: '4747.21' }] } : command);
    }, run);
    expect(zeroed.zeroOhms).toBe('0.21');
    const read = withReadings(zeroed, '4747.2', '4653.20', '4747.22');
    expect(read.readings.slice().map(({ ohms, zeroOhms, verdict, raw }) => [raw, ohms, zeroOhms, verdict])).toEqual([
      ['4747.2', '4746.99', '0.21', 'pass'],
      ['4653.20', '4652.99', '0.21', 'fail-low'],
      ['4747.22', '4747.01', '0.21', 'fail-high'],
    ]);
  });

  it('in 4-wire is what the meter says', () => {
    const meter = { ...METER, setting: { ...METER.setting, function: '4-wire' as const } };
    const run = withReadings(readyRun({ measurement: { method: '4-wire' } }, meter), '4700.10');
    expect(run.readings.get(0)).toMatchObject({ ohms: '4700.10', zeroOhms: '0', raw: '4700.10' });
  });
});

describe('the calibration of the meter', () => {
  const overdue = { ...METER, data: { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-03-01' } } };

  it('past due or unknown stops a round, unless somebody overridden with name and reason', () => {
    for (const meter of [overdue, { ...METER, data: null }]) {
      const run = confirmedRun({}, meter);
      const failed = walk(run, goodCheck(run, 'meter'));
      expect(failed.round).toEqual([]);
      expect(refusal(run, { ...answering, reason: '' } as Command).code).toBe('reason-missing');
      const passed = walk(walk(failed, answering), goodCheck(run, 'meter'));
      expect(passed.round).toEqual(['meter']);
      expect(passed.overridden).toMatchObject({ by: 'R. Adeyemi', reason: 'compared this morning' });
    }
  });

  it('that ran out after the last check does not decide a lot, unless somebody overridden', () => {
    const closed = wholeRound(withReadings(readyRun({}, METER), GOOD, GOOD, GOOD, GOOD, GOOD));
    const late = '2027-01-10T08:00:00+00:00';
    expect(decide(closed, accepting, late)).toMatchObject({ code: 'calibration-overdue' });
    const [event] = decide(closed, answering, late) as InspectionEvent[];
    expect(decide(apply(closed, event as InspectionEvent), accepting, late)).toHaveLength(1);
    // A hold is no decision and needs no calibration.
    expect(decide(closed, { ...accepting, disposition: 'on-hold', reason: 'r' } as Command, late)).toHaveLength(1);
  });

  it('needs nobody to answer for it while it is in date, or at the simulated bench', () => {
    expect(refusal(readyRun(), answering).code).toBe('calibration-in-date');
    expect(refusal(confirmedRun({}, { ...SIMULATED, data: null }), answering).code).toBe('calibration-in-date');
    const received = fold([{ type: 'lot-received', at: timeAt(0), facts: factsOfClaim() }]) as Run;
    expect(refusal(received, answering).code).toBe('meter-missing');
  });

  it('is answered for anew when the meter is connected anew', () => {
    const run = walk(confirmedRun({}, overdue), answering);
    expect(walk(run, { type: 'connect-meter', meter: overdue }).overridden).toBeNull();
  });
});

describe('records of before', () => {
  it('still fold, and such a run needs a whole round before it goes on or is decided', () => {
    const old = [
      { type: 'lot-received', at: timeAt(0), facts: { ...factsOfClaim(), checks: undefined } },
      {
        type: 'meter-connected',
        at: timeAt(1),
        meter: { address: METER.address, identity: METER.identity, setting: METER.setting },
      },
      { type: 'bench-confirmed', at: timeAt(2), by: 'B', cautions: CAUTIONS },
      { type: 'reading-taken', at: timeAt(3), reading: 1, piece: 1, raw: GOOD, ohms: '4702.13', verdict: 'pass' },
    ];
    const run = fold(old.map((event) => inspectionEvent.parse(event))) as Run;
    expect(run.checks).toEqual({
      everyReadings: 50,
      everyMinutes: 240,
      ambientCelsius: { lowest: '18', highest: '28' },
    });
    expect(run.meter).toMatchObject({ dialect: 'scpi', measures: ['2-wire', '4-wire'], data: null });
    expect(run.readings.get(0)).toMatchObject({ ohms: '4702.13', zeroOhms: '0', suspect: null });
    expect(stepOf(run)).toBe('ready');
    expect(refusal(run, reading).code).toBe('run-not-ready');
  });
});

/** Readings that nothing may stand on, worked out from the events alone: those between a whole round and a failed check. */
function unprovenBy(log: readonly InspectionEvent[]): { suspect: Set<number>; open: number[] } {
  const suspect = new Set<number>();
  let open: number[] = [];
  let inOrder = 0;
  for (const event of log) {
    if (event.type === 'reading-taken') open.push(event.reading);
    if (event.type === 'meter-connected' || event.type === 'run-continued' || event.type === 'readiness-expired')
      inOrder = 0;
    if (event.type !== 'bench-checked') continue;
    const place = CHECKS.indexOf(event.check);
    expect(place, 'no check is passed over').toBeLessThanOrEqual(inOrder);
    inOrder = event.outcome === 'failed' ? place : place + 1;
    if (event.outcome === 'failed') for (const one of open) suspect.add(one);
    if (event.outcome === 'failed' || inOrder === CHECKS.length) open = [];
  }
  return { suspect, open };
}

describe('whatever is asked of a run (property)', () => {
  it('no lot is decided on a reading that nothing stands behind', { timeout: 60_000 }, () => {
    let decidedWithSuspects = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.array(anyCommand, { maxLength: 50, size: 'max' }),
        (every, all) => {
          const facts = factsOfClaim({ checks: { everyReadings: every } });
          const log: InspectionEvent[] = [{ type: 'lot-received', at: timeAt(0), facts }];
          let run = fold(log) as Run;
          const ask = (command: Command) => {
            const events = decide(run, command, timeAt(log.length));
            if (events instanceof Problem) return;
            log.push(...events);
            run = events.reduce<Run>(apply, run);
          };
          ask({ type: 'connect-meter', meter: METER });
          for (const asked of [...all, DECIDED]) for (const command of asked(run)) ask(command);

          const { suspect, open } = unprovenBy(log);
          for (const { reading: number, suspect: marked, voided } of run.readings) {
            if (marked) expect(suspect.has(number)).toBe(true);
            if (suspect.has(number)) expect(marked !== null || voided !== null, 'marked as suspect').toBe(true);
          }
          expect(open.length).toBeLessThanOrEqual(every);
          const { decided, tally, readings } = run;
          if (decided === null || decided.disposition === 'on-hold') return;
          expect(open, 'a whole round stands behind the last reading').toEqual([]);
          const counting = readings.slice().filter((one) => !suspect.has(one.reading) && one.voided === null);
          expect(counting.length).toBe(tally.counted);
          expect(new Set(counting.map(({ piece }) => piece)).size).toBe(counting.length);
          if (suspect.size > 0) decidedWithSuspects += 1;
        },
      ),
      { numRuns: 300 },
    );
    // The walk must have come where it is judged.
    expect(decidedWithSuspects).toBeGreaterThan(0);
  });
});
