import { describe, expect, it } from 'vitest';
import { decide } from '../../../core/inspection/decide.ts';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { worthOf } from '../../../core/inspection/worth.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { CHECKS, type Shown } from '../../../core/readiness/check.ts';
import {
  confirmedRun,
  goodCheck,
  METER,
  METER_DATA,
  readyRun,
  scattered,
  timeAt,
  walk,
  wholeRound,
  withReadings,
} from './walk.ts';

/** A meter whose accuracy nobody has entered. */
const UNKNOWN: MeterFacts = { ...METER, data: null };

/** A round with the shorted leads and the reference as given; the reference waived where null. */
function roundWith(
  run: Run,
  reference: readonly string[] | null,
  shorted: readonly string[] = ['0.00', '0.00', '0.00'],
): Run {
  const as = (raws: readonly string[]) => raws.map((raw): Shown => ({ what: '2-wire', raw }));
  return CHECKS.reduce((now, check) => {
    const good = goodCheck(now, check);
    if (check === 'shorted-leads') return walk(now, { ...good, shown: as(shorted) });
    if (check !== 'reference') return walk(now, good);
    const waiver: Shown[] = [{ what: 'waiver', raw: 'none at hand' }];
    return walk(now, reference ? { ...good, shown: as(reference) } : { ...good, shown: waiver, reference: null });
  }, run);
}

function answeredFor(over: Partial<LotClaimInput>, meter: MeterFacts): Run {
  return walk(confirmedRun(over, meter), { type: 'override-calibration', by: 'B', reason: 'new meter' });
}

/** The problem of reading this; a test fails where it meets none. */
function refusal(run: Run, raw: string): string {
  const result = decide(run, { type: 'record-reading', measured: { raw } }, timeAt(60));
  if (!(result instanceof Problem)) throw new Error(`not refused: ${JSON.stringify(result)}`);
  return result.code;
}

const firstOf = (run: Run) => run.readings.get(0);

describe('a reading', () => {
  it('with a known coefficient is brought to the reference temperature; what the meter said is kept', () => {
    // By hand: 4702.13 / (1 + 100e-6 · 3) = 4700.719784…, so -1.410 to one decimal more than the last digit.
    const coefficient = { knownPpmPerKelvin: '100', uncertaintyPpmPerKelvin: '10' };
    const run = withReadings(readyRun({ temperature: { coefficient } }), '+4.70213E+03');
    expect(firstOf(run)).toMatchObject({ raw: '+4.70213E+03', temperatureOhms: '-1.41', ohms: '4700.72' });
  });

  it('is judged by what it is at the reference temperature', () => {
    // By hand: 4747.60 / (1 + 50e-6 · 3) = 4746.888…, inside 4747; at 23 °C it is outside.
    const coefficient = { knownPpmPerKelvin: '50', uncertaintyPpmPerKelvin: '5' };
    expect(firstOf(withReadings(readyRun({ temperature: { coefficient } }), '4747.60'))?.verdict).toBe('pass');
    expect(firstOf(withReadings(readyRun(), '4747.60'))?.verdict).toBe('fail-high');
  });

  it('with no more than a limit of the coefficient keeps its value and is worth less', () => {
    const limited = withReadings(readyRun({ temperature: { coefficient: { limitPpmPerKelvin: '50' } } }), '4702.13');
    const plain = withReadings(readyRun(), '4702.13');
    expect(firstOf(limited)).toMatchObject({ ohms: '4702.13', temperatureOhms: '0' });
    const expanded = (run: Run) => Number(firstOf(run)?.uncertainty?.expandedOhms);
    expect(expanded(limited)).toBeGreaterThan(expanded(plain));
  });

  it('of a meter without data, the reference waived, has no uncertainty, and simple acceptance judges as ever', () => {
    const run = roundWith(answeredFor({ plan: { sampleSize: 9, accept: 8 } }, UNKNOWN), null);
    const read = withReadings(run, '4702.13', '4652.99', '4747.01', '4653', '4747', '+9.9E+37');
    expect(read.readings.slice().map(({ verdict }) => verdict)).toEqual([
      ...['pass', 'fail-low', 'fail-high', 'pass', 'pass', 'open'],
    ]);
    for (const { uncertainty, temperatureOhms } of read.readings) {
      expect(uncertainty).toBeNull();
      expect(temperatureOhms).toBe('0');
    }
  });

  it('of the present round rests on no reference of a round before, once one was done without', () => {
    // Calibration overdue: the limits of error count no longer for U, so that it rests on the reference alone.
    const overdue = { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-03-01' } };
    let run = roundWith(answeredFor({}, { ...METER, data: overdue }), ['4747.00', '4747.01', '4746.99']);
    run = withReadings(run, '4702.13');
    expect(worthOf(run, { ohms: '4702.13', raw: '4702.13' }, timeAt(9)).basis).toBe('reference');
    run = withReadings(roundWith(run, null), '4702.13');
    expect(run.readings.get(0)?.uncertainty).not.toBeNull();
    expect(run.readings.get(1)?.uncertainty).toBeNull();
  });

  it('of a meter trusted by its reference alone is worth no more than what that meter may move unseen', () => {
    const meter = { ...UNKNOWN_BUT_AMBIENT, setting: { ...METER.setting, function: '4-wire' as const } };
    const reference = (ohms: number) => scattered(ohms.toFixed(2)).map((raw): Shown => ({ what: '4-wire', raw }));
    const roundAt = (before: Run, ohms: number) =>
      CHECKS.reduce((now, check) => {
        const good = goodCheck(now, check);
        return walk(now, check === 'reference' ? { ...good, shown: reference(ohms) } : good);
      }, before);
    const run = withReadings(roundAt(answeredFor({ measurement: { method: '4-wire' } }, meter), 4747), '4702.13');
    // The reading may be off by what the meter has moved by the next round, which passes.
    const moved = roundAt(run, 4747.6);
    expect(moved.tally).toMatchObject({ counted: 1, suspect: 0 });
    expect(Number(firstOf(moved)?.uncertainty?.expandedOhms)).toBeGreaterThan(0.6);
  });

  it('is not counted on a rule that needs an uncertainty it has not, unless it lies outside', () => {
    const onReference = { decision: { rule: 'guard-band' }, plan: { sampleSize: 9, accept: 8 } } as const;
    // The reference is trusted up to ten times its value, which is 47470 Ω here.
    const run = roundWith(answeredFor(onReference, UNKNOWN_BUT_AMBIENT), ['4747.00', '4747.01', '4746.99']);
    expect(withReadings(run, '4702.13').tally.pass).toBe(1);
    expect(withReadings(run, '56000.0').tally.failHigh).toBe(1);
    expect(refusal(withReadings(run, '4702.13'), '-4702.13')).toBe('reading-negative');
  });
});

/** Its limits of error are known for the check of the reference, and its calibration is not in date. */
const UNKNOWN_BUT_AMBIENT: MeterFacts = {
  ...METER,
  data: { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-03-01' } },
};

describe('what is known of a meter by its reference', () => {
  it('adds up from round to round with the same setting', () => {
    let run = wholeRound(confirmedRun());
    expect(run.scatter).toMatchObject({ degreesOfFreedom: 4, atOhms: '4747' });
    // 0, 1, -1, 0, 1 hundredths about their mean of 0.2: 2.8e-4 ohms squared, by hand.
    expect(run.scatter.squares).toBeCloseTo(2.8e-4, 12);
    run = wholeRound(withReadings(run, '4700.00'));
    expect(run.scatter.degreesOfFreedom).toBe(8);
    expect(run.scatter.squares).toBeCloseTo(5.6e-4, 12);
    expect(run.references).toHaveLength(2);
  });

  it('is not taken from another setting, nor from another meter', () => {
    const run = wholeRound(confirmedRun());
    const slower = { ...METER, setting: { ...METER.setting, integrationCycles: '10' } };
    const set = walk(run, { type: 'connect-meter', meter: slower });
    expect(set.scatter.degreesOfFreedom).toBe(0);
    expect(set.references).toHaveLength(1);
    const other = { ...METER, identity: { ...METER.identity, text: 'Another,Meter,1,1' } };
    const changed = walk(run, { type: 'connect-meter', meter: other });
    expect(changed).toMatchObject({ references: [], reference: null });
    expect(changed.scatter.degreesOfFreedom).toBe(0);
  });

  it('says E_n without the coefficient of the part', () => {
    const with500 = { temperature: { coefficient: { limitPpmPerKelvin: '500' } } };
    const shown = ['4747.30', '4747.31', '4747.30'];
    const plain = roundWith(wholeRound(confirmedRun()), shown);
    const wide = roundWith(wholeRound(confirmedRun(with500)), shown);
    expect(plain.references.at(-1)?.en).toBeGreaterThan(0.3);
    expect(wide.references.at(-1)?.en).toBe(plain.references.at(-1)?.en);
  });
});
