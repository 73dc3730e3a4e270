import { describe, expect, it } from 'vitest';
import { Cusum } from '../../../core/statistics/cusum.ts';
import { Ewma, ewmaSignals } from '../../../core/statistics/ewma.ts';

describe('EWMA', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.4 (from memory, recomputed): target 50, s 2.0539, lambda 0.3, L 3.
  const READINGS = [
    52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
    52.1,
  ];
  const PRINTED = [
    50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92,
    50.73, 51.23, 51.94, 51.99,
  ];
  const baseline = { centre: 50, spread: 2.0539 };

  it('comes to the averages that the e-Handbook prints', () => {
    const ewma = new Ewma(baseline);
    for (const [index, reading] of READINGS.entries()) {
      expect(Math.abs(ewma.add(reading).value - (PRINTED[index] as number))).toBeLessThanOrEqual(0.005 + 1e-9);
    }
  });

  it('has the limits that the e-Handbook prints once it has run in', () => {
    const ewma = new Ewma(baseline);
    let point = ewma.add(50);
    for (let i = 0; i < 60; i++) point = ewma.add(50);
    // 52.5884 and 47.4115 as printed: not symmetric about 50, so one unit of the last place is allowed.
    expect(Math.abs(point.upper - 52.5884)).toBeLessThan(0.0001);
    expect(Math.abs(point.lower - 47.4115)).toBeLessThan(0.0001);
  });

  it('has limits for its first point as for a single reading of that weight', () => {
    const { upper } = new Ewma(baseline).add(50);
    expect(upper).toBeCloseTo(50 + 3 * 2.0539 * 0.3, 12);
  });

  it('says in the e-Handbook’s example that nothing is out', () => {
    expect(ewmaSignals(READINGS, baseline)).toMatchObject({ n: 20, count: 0, places: [] });
  });
});

describe('CUSUM', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.3 (from memory, recomputed): target 325, h 4.1959, k 0.3175.
  const READINGS = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325,
    327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const UPPER: Record<number, number> = {
    13: 3.01,
    14: 4.94,
    15: 7.45,
    16: 10.63,
    17: 11.99,
    18: 14.44,
    19: 16.0,
    20: 19.04,
  };
  const LOWER: Record<number, number> = { 2: 0.01, 4: 0.33, 7: 0.56, 8: 0.72, 9: 0.17, 10: 0.25, 11: 0.31 };

  it('comes to the sums that the e-Handbook prints, and signals first at 14', () => {
    const cusum = new Cusum(325, 0.3175);
    const points = READINGS.map((reading) => cusum.add(reading));
    for (const [place, sum] of Object.entries(UPPER)) {
      expect(Math.abs((points[Number(place) - 1]?.above ?? Number.NaN) - sum)).toBeLessThanOrEqual(0.005 + 1e-9);
    }
    for (const [place, sum] of Object.entries(LOWER)) {
      expect(Math.abs((points[Number(place) - 1]?.below ?? Number.NaN) - sum)).toBeLessThanOrEqual(0.005 + 1e-9);
    }
    expect(points.findIndex(({ above, below }) => above > 4.1959 || below > 4.1959)).toBe(13);
  });
});
