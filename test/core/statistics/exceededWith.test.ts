import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exceededWith } from '../../../core/statistics/exceededWith.ts';

describe('the value that a standard normal variable exceeds', () => {
  // The critical values of the normal distribution, to all digits from memory; e-Handbook 1.3.6.7.1 has Φ(1.96) = 0.97500.
  it.each([
    [0.5, 0],
    [0.025, 1.959963984540054],
    [0.975, -1.959963984540054],
    [0.05, 1.6448536269514722],
    [0.001, 3.090232306167813],
  ])('with probability %d is %d', (probability, z) => expect(exceededWith(probability)).toBeCloseTo(z, 14));

  it('keeps its digits however small the probability (property)', () => {
    fc.assert(
      fc.property(fc.double({ min: -240, max: -0.31, noNaN: true }), (exponent) => {
        const probability = 10 ** exponent;
        expect(Math.abs(normalCdf(-exceededWith(probability), 0, 1) / probability - 1)).toBeLessThan(1e-11);
      }),
    );
    expect([exceededWith(0), exceededWith(1)]).toEqual([Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
  });
});
