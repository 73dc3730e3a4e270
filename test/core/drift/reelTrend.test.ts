import { describe, expect, it } from 'vitest';
import { reelTrend } from '../../../core/drift/reelTrend.ts';
import { analyse } from '../../../core/statistics/analysis.ts';
import { meanMovingRange } from '../../../core/statistics/capability.ts';
import { mannKendall } from '../../../core/statistics/mannKendall.ts';
import type { Limits } from '../../../core/statistics/values.ts';
import { normals } from '../statistics/seeded.ts';

const LIMITS = { nominal: 1000, lower: 990, upper: 1010 };

function trendOf(readings: readonly number[], lotSize: number | null = 5000, limits: Limits = LIMITS) {
  return reelTrend({
    inOrder: readings,
    mean: readings.reduce((sum, reading) => sum + reading, 0) / readings.length,
    movingRange: meanMovingRange(readings),
    mannKendall: mannKendall(readings),
    limits,
    positions: null,
    positionsKnown: false,
    lotSize,
  });
}

/** A reel that moves by so many ohms a piece, with noise of one ohm. */
function reel(slope: number, pieces = 200, seed = 3): number[] {
  const noise = normals(seed);
  return Array.from({ length: pieces }, (_, index) => 1000 + slope * (index + 1) + noise());
}

describe('the trend along a reel', () => {
  it('says at which piece the window is left, within what the slope allows', () => {
    const { leavesAt, words } = trendOf(reel(0.02));
    // 1000 + 0.02 x > 1010 from piece 501 on.
    expect(leavesAt?.limit).toBe('upper');
    expect(leavesAt?.earliest).toBeLessThanOrEqual(501);
    expect(leavesAt?.latest).toBeGreaterThanOrEqual(501);
    expect(words).toMatch(
      /^The value rises by .* Ω in 1 000 pieces .*At this slope piece \S+ leaves the window at its upper limit/,
    );
  });

  it('says so of the lower limit too', () => {
    const { leavesAt, words } = trendOf(reel(-0.02));
    expect(leavesAt?.limit).toBe('lower');
    expect(words).toContain('falls');
  });

  it('says what the last piece comes to where the line stays inside', () => {
    const { leavesAt, words } = trendOf(reel(0.02), 300);
    expect(leavesAt).toBeNull();
    expect(words).toMatch(/the last of 300 pieces comes to 100\d\.\d+ Ω, inside the window/);
  });

  it('does not call the last piece inside where the line has not come in at the other limit', () => {
    const below = reel(0.02).map((ohms) => ohms - 40);
    expect(trendOf(below, 300).words).toMatch(/comes to 96\d\.\d+ Ω, outside the window/);
    const above = reel(-0.02).map((ohms) => ohms + 40);
    expect(trendOf(above, 300).words).toMatch(/comes to 103\d\.\d+ Ω, outside the window/);
  });

  it('says so where the line lies beyond the limit from the first piece on', () => {
    const { leavesAt, words } = trendOf(reel(0.02).map((ohms) => ohms + 40));
    expect(leavesAt).toMatchObject({ limit: 'upper', piece: 1 });
    expect(words).toContain('Its line lies beyond the upper limit from the first piece on');
  });

  it('gives the interval of the slope with as many digits as the slope', () => {
    const { slope, words } = trendOf(reel(0.02).map((ohms) => ohms / 1e4));
    if ('refused' in slope) throw new Error(slope.refused);
    const [, from, to] = /\(([\d.]+) to ([\d.]+) Ω;/.exec(words) ?? [];
    expect(Math.abs(Number(from) / (slope.lower * 1000) - 1)).toBeLessThan(0.006);
    expect(Math.abs(Number(to) / (slope.upper * 1000) - 1)).toBeLessThan(0.006);
  });

  it('does not deny a trend that is less than the readings resolve', () => {
    const steps = Array.from({ length: 200 }, (_, index) => (index % 10 ? 1000 : index < 100 ? 999.9 : 1000.1));
    const { leavesAt, words } = trendOf(steps);
    expect(leavesAt).toBeNull();
    expect(words).toMatch(/^The value tends to rise \(p below 0\.001\), but by less than the readings resolve/);
  });

  it('promises nothing of a limit that is not there, or of a reel whose length is not known', () => {
    expect(trendOf(reel(0.02), 5000, { ...LIMITS, upper: null }).leavesAt).toBeNull();
    expect(trendOf(reel(0.02), null).words).not.toMatch(/leaves|last/);
  });

  it('says that none is shown in readings without one', () => {
    const trend = trendOf(reel(0));
    expect(trend.leavesAt).toBeNull();
    expect(trend.words).toMatch(/^No trend is shown \(p = 0\.\d+\)\.$/);
  });

  it('signals a step in its charts', () => {
    const noise = normals(8);
    const readings = Array.from({ length: 80 }, (_, index) => 1000 + (index < 40 ? 0 : 3) + noise());
    const { ewma, cusum } = trendOf(readings);
    for (const signals of [ewma, cusum]) {
      if ('refused' in signals) throw new Error(signals.refused);
      expect(signals.count).toBeGreaterThan(10 * signals.byChance);
    }
  });

  it('has words in place of figures that cannot be given', () => {
    for (const readings of [[], [1000], [1000, 1001], Array.from({ length: 50 }, () => 1000)]) {
      const trend = trendOf(readings);
      expect(trend.words).toMatch(/too few|equal/);
      expect(JSON.stringify(trend)).not.toMatch(/NaN|Infinity|null,"upper"/);
    }
  });
});

describe('the whole analysis', () => {
  it('warns that figures of one process say nothing of a reel that moves', () => {
    const notesOf = (readings: readonly number[]) => {
      const { capability, normalOutside, toleranceInterval } = analyse(readings, LIMITS, { lotSize: 5000 });
      return [capability, normalOutside, toleranceInterval].map((of) => ('refused' in of ? '' : of.notes.join()));
    };
    for (const notes of notesOf(reel(0.02))) expect(notes).toContain('The value moves along the reel');
    for (const notes of notesOf(reel(0))) expect(notes).not.toContain('moves');
  });

  it('never gives a figure that is none, however odd the readings', () => {
    const oddities = [
      [],
      [5],
      [5, 5],
      [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5],
      [1e-9, 2e-9, 3e-9],
      [0, 0, 1],
      [1e12, -1e12, 0, 1],
    ];
    const windows = [LIMITS, { nominal: null, lower: null, upper: 10 }, { nominal: null, lower: 0, upper: null }];
    for (const readings of oddities) {
      for (const limits of windows) {
        const walk = (value: unknown, path: string): void => {
          if (typeof value === 'number') expect(Number.isFinite(value), `${path} of ${readings}`).toBe(true);
          else if (value && typeof value === 'object') {
            for (const [name, inner] of Object.entries(value)) walk(inner, `${path}.${name}`);
          } else if (typeof value === 'string') expect(value).not.toMatch(/NaN|Infinity/);
        };
        walk(analyse(readings, limits, { lotSize: 100 }), 'analysis');
      }
    }
  });
});
