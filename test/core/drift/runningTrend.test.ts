import { describe, expect, it } from 'vitest';
import { RunningTrend } from '../../../core/drift/runningTrend.ts';
import { analyse } from '../../../core/statistics/analysis.ts';
import { normals } from '../statistics/seeded.ts';

const LIMITS = { nominal: 1000, lower: 990, upper: 1010 };

describe('the trend while a reel is measured', () => {
  it('is at every reading that of all at once, also after a reading was made void', () => {
    const noise = normals(5);
    const readings = Array.from({ length: 90 }, (_, index) => 1000 + 0.04 * index + noise());
    const running = new RunningTrend();
    const all = [...readings.keys()].map((index) => readings.slice(0, index + 1));
    let shown = 0;
    for (const values of [...all, readings.toSpliced(40, 1), readings]) {
      const { trend } = analyse(values, LIMITS, { lotSize: 1000 });
      const pieces = values.map((_, index) => index + 1);
      expect(running.leavesAt(values, pieces, LIMITS, 1000)).toEqual(trend.leavesAt);
      if (trend.leavesAt) shown++;
    }
    expect(shown).toBeGreaterThan(20);
  });
});
