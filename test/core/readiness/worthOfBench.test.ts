import { describe, expect, it } from 'vitest';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { CHECKS, type CheckName, type Shown } from '../../../core/readiness/check.ts';
import {
  confirmedRun,
  goodCheck,
  METER,
  METER_DATA,
  readyRun,
  walk,
  wholeRound,
  withReadings,
} from '../inspection/walk.ts';

const raws = (...texts: string[]): Shown[] => texts.map((raw) => ({ what: '2-wire', raw }));

/** The run after checks up to this one, which shows what is given. */
function upTo(run: Run, check: CheckName, shown?: Shown[]): Run {
  const before = CHECKS.slice(0, CHECKS.indexOf(check));
  const ready = before.reduce((now, name) => walk(now, goodCheck(now, name)), run);
  const good = goodCheck(ready, check);
  return walk(ready, shown ? { ...good, shown } : good);
}

function lastCheck(run: Run): { outcome: string; why: string } {
  const last = run.history.findLast(({ kind }) => kind === 'check');
  if (last?.kind !== 'check') throw new Error('no check was done');
  return last;
}

/** Leads of 0.2 Ω in the first round, and two pieces measured. */
function measured(): Run {
  const run = ['meter', 'open-leads'].reduce(
    (now, check) => walk(now, goodCheck(now, check as CheckName)),
    confirmedRun(),
  );
  const leads = walk(run, { ...goodCheck(run, 'shorted-leads'), shown: raws('0.20', '0.20', '0.21') });
  const reference = { ...goodCheck(leads, 'reference'), shown: raws('4747.20', '4747.21', '4747.20') };
  const rest = walk(walk(leads, goodCheck(leads, 'no-voltage')), reference);
  return withReadings(walk(walk(rest, goodCheck(rest, 'method')), goodCheck(rest, 'ambient')), '4700.00', '4701.00');
}

describe('the zero of the closing round', () => {
  // 0.005 % of the range of 10 kΩ is 0.5 Ω, more than half of the leads' 0.2 Ω and less than a tenth of ±47 Ω.
  it('may be as far off as is counted into every reading, and no further', () => {
    expect(lastCheck(upTo(measured(), 'shorted-leads', raws('0.70', '0.70', '0.70'))).outcome).toBe('passed');
    const moved = upTo(measured(), 'shorted-leads', raws('0.71', '0.71', '0.71'));
    expect(lastCheck(moved).why).toMatch(/510 mΩ more than before, and no more than 500 mΩ is allowed for/);
    expect(moved.tally.suspect).toBe(2);
  });

  it('does not creep away by being measured again and again', () => {
    const once = upTo(measured(), 'shorted-leads', raws('0.60', '0.60', '0.60'));
    const twice = walk(once, { ...goodCheck(once, 'shorted-leads'), shown: raws('0.90', '0.90', '0.90') });
    expect(lastCheck(twice).outcome).toBe('failed');
  });

  it('fails once: with its readings suspect the next round begins with the new one', () => {
    const moved = upTo(measured(), 'shorted-leads', raws('0.80', '0.80', '0.80'));
    const next = upTo(moved, 'shorted-leads', raws('0.80', '0.80', '0.80'));
    expect(lastCheck(next).outcome).toBe('passed');
    expect(next.zeroOhms).toBe('0.8');
  });
});

describe('the meter by its reference', () => {
  const cheap: MeterFacts = {
    ...METER,
    data: { ...METER_DATA, ranges: METER_DATA.ranges.map((range) => ({ ...range, percentOfReading: '0.2' })) },
  };

  it('must not move by more than a tenth of the tolerance between two checks, or its readings are taken again', () => {
    // 4.7 Ω is a tenth of ±47 Ω at the limit of 4747 Ω, where the reference is; within ±9.594 Ω of error all along.
    const run = withReadings(readyRun({}, cheap), '4700.00');
    expect(lastCheck(upTo(run, 'reference', raws('4751.60', '4751.60'))).outcome).toBe('passed');
    const moved = upTo(run, 'reference', raws('4751.80', '4751.80'));
    expect(lastCheck(moved).why).toMatch(/the meter moved by 4\.798\d* Ω on the reference RS-1.*more than ±4\.7 Ω/);
    expect(moved.tally.suspect).toBe(1);
    expect(lastCheck(upTo(moved, 'reference', raws('4751.80', '4751.80'))).outcome, 'no endless round').toBe('passed');
  });

  it('does not creep away by being measured again and again', () => {
    const run = withReadings(readyRun({}, cheap), '4700.00');
    const once = upTo(run, 'reference', raws('4750.00', '4750.00'));
    const twice = walk(once, { ...goodCheck(once, 'reference'), shown: raws('4753.00', '4753.00') });
    expect(lastCheck(once).outcome).toBe('passed');
    expect(lastCheck(twice).why).toContain('the meter moved by');
  });

  it('may have moved where nothing was measured between', () => {
    const run = readyRun({}, cheap);
    expect(lastCheck(upTo(run, 'reference', raws('4753.00', '4753.00'))).outcome).toBe('passed');
  });

  it('must agree with it: |E_n| no more than 1 (ISO/IEC 17043, from memory)', () => {
    // A reference known within ±4 Ω and a meter within ±0.57 Ω: the sum allows 4.57 Ω, E_n about 4.06 Ω.
    const run = confirmedRun();
    const loose = { name: 'RS-2', ohms: '4747', uncertaintyOhms: '4', due: '2026-12-31' };
    const shownAt = (raw: string) => {
      const before = upTo(run, 'no-voltage');
      return lastCheck(walk(before, { ...goodCheck(before, 'reference'), shown: raws(raw, raw), reference: loose }));
    };
    expect(shownAt('4750.90').why).toMatch(/E_n 0\.9\d/);
    expect(shownAt('4751.20')).toMatchObject({
      outcome: 'failed',
      why: expect.stringMatching(/do not agree: E_n 1\.0\d/),
    });
  });
});

describe('the method in the light of what a reading is worth', () => {
  const methodOf = (over: Partial<LotClaimInput>, meter = METER) =>
    lastCheck(upTo(confirmedRun(over, meter), 'method'));
  const worse = (percentOfReading: string): MeterFacts => ({
    ...METER,
    data: { ...METER_DATA, ranges: METER_DATA.ranges.map((range) => ({ ...range, percentOfReading })) },
  });

  it('says the test uncertainty ratio: 47 Ω over ±0.88 Ω is 53', () => {
    const again = lastCheck(upTo(wholeRound(confirmedRun()), 'method'));
    expect(again.why).toMatch(/is worth ±880 mΩ \(k = 2\.00\), test uncertainty ratio 53$/);
    expect(methodOf({}).why).toMatch(
      /is worth ±880 mΩ \(k = 2\.00; without what .* not known yet\), test uncertainty ratio 53$/,
    );
  });

  it('says plainly where it is under 4, and passes', () => {
    const { outcome, why } = methodOf({}, worse('0.5'));
    expect(outcome).toBe('passed');
    expect(why).toMatch(
      /test uncertainty ratio 1\.\d\. The tolerance of ±47 Ω is 1\.\d times the uncertainty.*4 times/,
    );
  });

  it('fails where guard bands leave nothing of the window, and says what to do', () => {
    const decision = { rule: 'guard-band', guardFactor: '3' } as const;
    expect(methodOf({ decision }).outcome).toBe('passed');
    expect(methodOf({ decision }, worse('0.5'))).toMatchObject({
      outcome: 'failed',
      why: expect.stringMatching(
        /leave nothing of the window between them\. Use a meter or a range that is more exact/,
      ),
    });
  });

  it('where the uncertainty is not known, says so, and fails only a rule that needs it', () => {
    const unknown = { ...METER, data: null };
    const waiver: Shown[] = [{ what: 'waiver', raw: 'none at hand' }];
    const methodWithout = (over: Partial<LotClaimInput>) => {
      const answered = walk(confirmedRun(over, unknown), { type: 'override-calibration', by: 'B', reason: 'r' });
      const waived = upTo(answered, 'no-voltage');
      const run = walk(waived, { ...goodCheck(waived, 'reference'), shown: waiver, reference: null });
      return lastCheck(walk(run, goodCheck(run, 'method')));
    };
    expect(methodWithout({})).toMatchObject({
      outcome: 'passed',
      why: expect.stringContaining('The uncertainty is not known: nobody has entered the accuracy of the meter'),
    });
    expect(methodWithout({ decision: { rule: 'non-binary' } })).toMatchObject({
      outcome: 'failed',
      why: expect.stringMatching(/needs the uncertainty of a reading.*or receive the lot with simple acceptance/),
    });
  });

  it('in the first round says that what the ambient temperature adds is still left out', () => {
    const temperature = { coefficient: { limitPpmPerKelvin: '50' } };
    expect(methodOf({ temperature, decision: { rule: 'guard-band' } }).why).toContain(
      'without what the ambient temperature adds, which is not known yet',
    );
    const later = upTo(wholeRound(confirmedRun({ temperature })), 'method');
    expect(lastCheck(later).why).not.toContain('not known yet');
  });

  it('warns of a test current that warms the piece: 1 mA in 4747 Ω is 4.7 mW of 10 mW', () => {
    const part = { number: 'P', nominal: '4k7', tolerance: '1 %' };
    expect(methodOf({ part: { ...part, ratedWatts: '0.01' } }).why).toMatch(/0\.0047 W into heat in the piece, 47 %/);
    expect(methodOf({ part: { ...part, ratedWatts: '0.25' } }).why).not.toContain('heat');
  });
});
