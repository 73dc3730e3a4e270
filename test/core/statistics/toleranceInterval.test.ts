import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noncentralTCdf, noncentralTQuantile } from '../../../core/statistics/noncentralT.ts';
import {
  coverageOfExtremes,
  oneSidedFactor,
  toleranceIntervalOf,
  twoSidedFactor,
} from '../../../core/statistics/toleranceInterval.ts';
import { given, refusal } from './given.ts';

describe('the noncentral t', () => {
  // Computed only: scipy.stats.nct.cdf, scipy 1.17.
  it.each([
    [1, 1, 0.5, 0.5927477364400293],
    [3, 5, 2, 0.7311098435083787],
    [-1, 9, -0.5, 0.32274947218253036],
    [10, 29, 8, 0.8783479426819251],
    [12, 10, 13, 0.3152756062765314],
    [45, 99, 40, 0.9294939257449193],
    [1300, 9999, 1281.55, 0.9769891575733368],
  ])('at %d with %d degrees of freedom and δ %d', (t, freedom, noncentrality, probability) => {
    expect(noncentralTCdf(t, freedom, noncentrality)).toBeCloseTo(probability, 12);
  });

  const freedom = fc.integer({ min: 1, max: 5000 });
  const noncentrality = fc.double({ min: -60, max: 60, noNaN: true });

  it('is the t for δ 0, and Φ(-δ) at 0', () => {
    fc.assert(
      fc.property(freedom, noncentrality, fc.double({ min: -8, max: 8, noNaN: true }), (nu, delta, t) => {
        expect(noncentralTCdf(t, nu, 0)).toBeCloseTo(tCdf(t, nu), 12);
        expect(noncentralTCdf(0, nu, delta)).toBeCloseTo(normalCdf(-delta, 0, 1), 12);
      }),
    );
  });

  it('has a quantile that its distribution takes back, and is its own mirror', () => {
    fc.assert(
      fc.property(freedom, noncentrality, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (nu, delta, p) => {
        const t = noncentralTQuantile(p, nu, delta);
        expect(noncentralTCdf(t, nu, delta)).toBeCloseTo(p, 10);
        expect(noncentralTCdf(-t, nu, -delta)).toBeCloseTo(1 - p, 10);
      }),
      { numRuns: 30 },
    );
  });

  it('takes no nonsense', () => {
    expect(() => noncentralTCdf(1, 0, 1)).toThrow(RangeError);
    expect(() => noncentralTQuantile(1, 5, 1)).toThrow(RangeError);
  });
});

describe('tolerance intervals', () => {
  // NIST/SEMATECH e-Handbook 7.2.6.3, page read: n 43, mean 97.07, s 0.0268, 90 % of the pieces with 99 % confidence.
  const example = given(
    toleranceIntervalOf(
      { n: 43, mean: 97.07, standardDeviation: 0.0268, lowest: 97, highest: 97.13, range: 0.13 },
      0.9,
      0.99,
    ),
  );

  it('has the two-sided limits of the handbook', () => {
    expect(example.twoSided.factor).toBeCloseTo(2.217, 3);
    expect(example.twoSided.factor).toBeCloseTo(2.217316, 6); // computed only
    expect(example.twoSided.lower).toBeCloseTo(97.010576, 5);
    expect(example.twoSided.upper).toBeCloseTo(97.12942, 5);
  });

  it('has the exact one-sided factor', () => {
    // The handbook prints 1.8740 for it: from memory. The other digits are computed only.
    expect(example.oneSided.factor).toBeCloseTo(1.874, 4);
    expect(example.oneSided.factor).toBeCloseTo(1.8739536, 7);
    expect(oneSidedFactor(10, 0.95, 0.95)).toBeCloseTo(2.910963, 6);
    expect(oneSidedFactor(30, 0.99, 0.95)).toBeCloseTo(3.063901, 6);
  });

  it('has the one-sided factors of the tables', () => {
    // Natrella, Experimental Statistics, NBS Handbook 91 (1963), table A-7: from memory, recomputed.
    expect(oneSidedFactor(10, 0.9, 0.95)).toBeCloseTo(2.355, 3);
    expect(oneSidedFactor(50, 0.95, 0.95)).toBeCloseTo(2.065, 3);
  });

  it('knows what lies between the extremes: 93 pieces for 95 % with 95 %', () => {
    // Wilks: the well-known 93 (two-sided). From memory, recomputed.
    expect(coverageOfExtremes(93, 0.95)).toBeGreaterThanOrEqual(0.95);
    expect(coverageOfExtremes(92, 0.95)).toBeLessThan(0.95);
    expect(example.notes.join()).toMatch(/too few to give 90 %/);
  });

  it('narrows with more pieces towards the normal itself', () => {
    expect(twoSidedFactor(1e6, 0.95, 0.95)).toBeCloseTo(1.96, 2);
    expect(oneSidedFactor(1e6, 0.95, 0.95)).toBeCloseTo(1.645, 2);
  });

  it('refuses in words', () => {
    const all = { n: 5, mean: 1, lowest: 1, highest: 1, range: 0 };
    expect(refusal(toleranceIntervalOf({ ...all, standardDeviation: 0 }))).toMatch(/equal/);
    expect(refusal(toleranceIntervalOf({ ...all, standardDeviation: null }))).toMatch(/single/);
  });
});
