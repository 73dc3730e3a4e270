import { describe, expect, it } from 'vitest';
import { RunningTrend } from '../../../core/drift/runningTrend.ts';
import { analyse } from '../../../core/statistics/analysis.ts';
import { normals } from '../statistics/seeded.ts';

const LIMITS = { nominal: 1000, lower: 990, upper: 1010 };

function rising(count: number): number[] {
  const noise = normals(5);
  return Array.from({ length: count }, (_, index) => 1000 + 0.04 * index + noise());
}

describe('the trend while a reel is measured', () => {
  it('is at every reading that of all at once', () => {
    const readings = rising(90);
    const running = new RunningTrend();
    let shown = 0;
    for (const [index, value] of readings.entries()) {
      running.add(value, index + 1);
      const { trend } = analyse(readings.slice(0, index + 1), LIMITS, { lotSize: 1000 });
      expect(running.leavesAt(LIMITS, 1000)).toEqual(trend.leavesAt);
      if (trend.leavesAt) shown++;
    }
    expect(shown).toBeGreaterThan(20);
  });

  it('is the same when pieces are measured again after others, or taken in another order', () => {
    const readings = rising(90);
    const wanted = analyse(readings, LIMITS, { lotSize: 1000 }).trend.leavesAt;
    expect(wanted).not.toBeNull();
    const order = [...readings.keys()].filter((index) => index !== 10 && index !== 30);
    const running = new RunningTrend();
    for (const index of [...order.slice(0, 50), 30, ...order.slice(50), 10]) {
      running.add(readings[index] as number, index + 1);
      if (index % 20 === 0) running.leavesAt(LIMITS, 1000);
    }
    expect(running.leavesAt(LIMITS, 1000)).toEqual(wanted);
  });
});
