import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meanMovingRange } from '../../../core/statistics/capability.ts';
import { mannKendall } from '../../../core/statistics/mannKendall.ts';
import { percentile } from '../../../core/statistics/percentile.ts';
import { RunningAnalysis } from '../../../core/statistics/runningAnalysis.ts';
import { summaryOf } from '../../../core/statistics/summary.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { seeded } from './seeded.ts';

function mustBeAsAllAtOnce(readings: readonly number[], running: RunningAnalysis): void {
  expect(running.n).toBe(readings.length);
  expect(running.summary()).toEqual(summaryOf(readings));
  expect(running.mannKendall()).toEqual(mannKendall(readings));
  expect([...running.sorted()]).toEqual([...sortedOf(readings)]);
  const step = meanMovingRange(readings);
  if (step === null) expect(running.movingRange()).toBeNull();
  else expect(running.movingRange()).toBeCloseTo(step, 12);
  if (readings.length > 0) expect(running.percentile(0.37)).toBe(percentile(sortedOf(readings), 0.37));
}

describe('reading by reading', () => {
  it('is at every reading what it is of all at once', () => {
    const readings = fc.array(fc.oneof(fc.integer({ min: 0, max: 9 }), fc.double({ min: -50, max: 50, noNaN: true })), {
      maxLength: 60,
    });
    fc.assert(
      fc.property(readings, (all) => {
        const running = new RunningAnalysis();
        for (const [index, reading] of all.entries()) {
          running.add(reading);
          mustBeAsAllAtOnce(all.slice(0, index + 1), running);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('stays so over many blocks, with readings tied across their borders', () => {
    const random = seeded(21);
    for (const last of [3, 40, 1e9]) {
      const readings = Array.from({ length: 20_000 }, () => Math.floor(random() * last) / 8);
      const running = new RunningAnalysis();
      for (const reading of readings) running.add(reading);
      mustBeAsAllAtOnce(readings, running);
    }
  });
});
