import { describe, expect, it } from 'vitest';
import type { Run } from '../../core/inspection/run.ts';
import { CHECKS } from '../../core/readiness/check.ts';
import { checkAtTurn, checkRows } from '../../renderer/ready/checkRows.ts';
import { atStake, notProven, whyDue } from '../../renderer/ready/whyDue.ts';
import { afterWords, goodAfter, nextCheckWords } from '../../renderer/words/bench.ts';
import { suspectWhy } from '../../renderer/words/suspect.ts';
import {
  badCheck,
  confirmedRun,
  goodCheck,
  readyRun,
  walk,
  wholeRound,
  withReadings,
} from '../core/inspection/walk.ts';

const GOOD = '+4.70213E+03';
const stands = (run: Run) => checkRows(run).map((row) => row.stands);
const plain = (text: string | null) => text?.replaceAll('\u00a0', ' ') ?? null;
/** Checks again after two readings. */
const OFTEN = { checks: { everyReadings: 2 }, plan: { sampleSize: 5, accept: 1 } };

describe('the list of checks', () => {
  it('has one under work, those before it as they came out, those after it to come', () => {
    let run = confirmedRun();
    for (const [index, check] of CHECKS.entries()) {
      const expected = CHECKS.map((_, at) => (at < index ? 'passed' : at === index ? 'due' : 'ahead'));
      expect(stands(run)).toEqual(expected);
      expect(checkAtTurn(run)).toBe(check);
      run = walk(run, goodCheck(run, check));
    }
    expect(stands(run)).toEqual(CHECKS.map(() => 'passed'));
    expect(checkAtTurn(run)).toBeNull();
  });

  it('shows a check that failed as failed until something else happens at the bench', () => {
    let run = confirmedRun();
    run = walk(run, goodCheck(run, 'meter'));
    run = walk(run, badCheck(run, 'open-leads'));
    expect(stands(run).slice(0, 3)).toEqual(['passed', 'failed', 'ahead']);
    expect(checkRows(run)[1]?.last?.why).toContain('1.2 MΩ with open leads');
    // An earlier one done again: what failed is due, and no longer at hand as a failure.
    run = walk(run, goodCheck(run, 'meter'));
    expect(stands(run).slice(0, 3)).toEqual(['passed', 'due', 'ahead']);
  });

  it('makes all of them due again, with nothing passed, once readings were taken', () => {
    const run = withReadings(readyRun(), GOOD);
    expect(stands(run)).toEqual(['due', ...CHECKS.slice(1).map(() => 'ahead')]);
    expect(checkAtTurn(run)).toBe('meter');
  });

  it('keeps how a check came out that somebody did without', () => {
    let run = confirmedRun();
    for (const check of CHECKS.slice(0, 4)) run = walk(run, goodCheck(run, check));
    run = walk(run, { ...goodCheck(run, 'reference'), shown: [{ what: 'waiver', raw: 'at the laboratory' }] });
    expect(stands(run)[4]).toBe('waived');
  });
});

describe('why the bench is checked again', () => {
  it('is not said the first time, nor while nothing asks for it', () => {
    expect(whyDue(confirmedRun())).toBeNull();
    expect(whyDue(readyRun())).toBeNull();
    expect(whyDue(withReadings(readyRun(OFTEN), GOOD))).toBeNull();
  });

  it('says how many readings there were', () => {
    const run = withReadings(readyRun(OFTEN), GOOD, GOOD);
    expect(whyDue(run)).toBe('2 readings since the last checks.');
    // Still so while the round is under way.
    expect(whyDue(walk(run, goodCheck(run, 'meter')))).toBe('2 readings since the last checks.');
    expect(whyDue(wholeRound(run))).toBeNull();
  });

  it('says that the lot is to be decided', () => {
    expect(whyDue(withReadings(readyRun(), ...Array<string>(5).fill(GOOD)))).toContain('The sample is complete');
    expect(whyDue(withReadings(readyRun(), '+1.0E+03', '+1.0E+03'))).toContain('needs no further piece');
  });

  it('says what made the last checks void', () => {
    const run = withReadings(readyRun(), GOOD);
    const lapsed = walk(run, { type: 'expire-readiness', why: 'the meter was switched off and on' });
    expect(whyDue(lapsed)).toBe('The meter was switched off and on.');
    const failed = walk(walk(run, goodCheck(run, 'meter')), badCheck(run, 'open-leads'));
    expect(whyDue(failed)).toBe('The check “Open leads” failed.');
  });
});

describe('what hangs on a check', () => {
  it('are the readings since the last whole round, until they are proven or suspect', () => {
    const run = withReadings(readyRun(), GOOD, GOOD, GOOD);
    expect(notProven(run)).toBe(3);
    expect(plain(atStake(run))).toContain('3 readings since the last checks are not proven yet');
    expect(atStake(wholeRound(run))).toBeNull();

    const failed = walk(walk(run, goodCheck(run, 'meter')), badCheck(run, 'open-leads'));
    expect(notProven(failed)).toBe(0);
    expect(failed.again).toEqual([1, 2, 3]);
    expect(suspectWhy(failed)).toMatch(/^Their readings are suspect: the check “Open leads” failed at /);
  });

  it('is said on the card as readings that are left', () => {
    const run = withReadings(readyRun(OFTEN), GOOD);
    expect(plain(nextCheckWords(run))).toBe('next check in 1 reading');
    expect(nextCheckWords(withReadings(run, GOOD))).toBe('check due now');
    expect(goodAfter(wholeRound(withReadings(run, GOOD))).map(afterWords)).toEqual([
      'before the first reading',
      'after reading 2',
    ]);
  });
});
