import { describe, expect, it } from 'vitest';
import type { Run } from '../../core/inspection/run.ts';
import { worthOf } from '../../core/inspection/worth.ts';
import { subtract } from '../../core/quantity/decimal.ts';
import { CHECKS } from '../../core/readiness/check.ts';
import { benchBefore } from '../../renderer/worth/benchBefore.ts';
import { confirmedRun, goodCheck, walk, withReadings } from '../core/inspection/walk.ts';

/** All checks, with what the shorted leads show. */
function round(run: Run, shorted: string): Run {
  return CHECKS.reduce((now, check) => {
    const good = goodCheck(now, check);
    const isShorted = check === 'shorted-leads' && good.type === 'check-bench';
    return walk(now, isShorted ? { ...good, shown: [1, 2, 3].map(() => ({ what: '2-wire', raw: shorted })) } : good);
  }, run);
}

/** Two readings with one zero, a void, and two with another; the coefficient is known, so that values are corrected. */
function twoRounds(): Run {
  const coefficient = { knownPpmPerKelvin: '100', uncertaintyPpmPerKelvin: '10' };
  let run = confirmedRun({ temperature: { coefficient }, plan: { sampleSize: 9, accept: 8 } });
  run = withReadings(round(run, '0.10'), '4702.13', '4710.00');
  run = walk(run, { type: 'void-reading', reading: 2, by: 'Ines Okoro', reason: 'slipped' });
  return withReadings(round(run, '0.12'), '4711.05', '4690.40');
}

describe('the bench before a reading', () => {
  it('gives every reading the very uncertainty it was judged with, whatever came after it', () => {
    const run = twoRounds();
    const readings = run.readings.slice();
    expect(readings).toHaveLength(4);
    for (const { reading, ohms, temperatureOhms, raw, at, uncertainty } of readings) {
      const bench = benchBefore(run, reading);
      if (!bench) throw new Error('no bench');
      const worth = worthOf(bench, { ohms: subtract(ohms as string, temperatureOhms), raw }, at);
      expect(worth.expandedOhms).toBe(uncertainty?.expandedOhms);
      expect(worth.coverageFactor).toBe(uncertainty?.coverageFactor);
    }
  });

  it('has the zero of its own time', () => {
    const run = twoRounds();
    for (const reading of [1, 2, 3, 4]) {
      expect(benchBefore(run, reading)?.zeroOhms).toBe(run.readings.get(reading - 1)?.zeroOhms);
    }
    expect(benchBefore(run, 1)?.zeroOhms).not.toBe(benchBefore(run, 4)?.zeroOhms);
  });

  it('is not known where the run does not hold the reading', () => {
    expect(benchBefore(twoRounds(), 5)).toBeNull();
    expect(benchBefore(twoRounds(), 0)).toBeNull();
  });
});
