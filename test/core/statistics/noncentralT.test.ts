import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noncentralTCdf } from '../../../core/statistics/noncentralT.ts';

function relativeError(value: number, expected: number): number {
  return Math.abs(value / expected - 1);
}

describe('the noncentral t, tails included', () => {
  // Computed only, by mpmath 1.3 with 30 digits from the integral that defines it: random points with 1 to 2000 degrees of freedom, δ from
  // -50 to 50, a third of them far out in the tail.
  it.each([
    [-883.7057706239788, 2, -20.878471258886535, 0.0005593125565385226],
    [-2.0948317194711485, 3, 4.537700382586884, 1.7048625266569685e-8],
    [23.695072247476627, 3, 41.0084168057645, 0.02998238288166032],
    [57.63461541107811, 4, 46.220112518081805, 0.6316110291965242],
    [-10.382044280876185, 4, -14.0577968014846, 0.8733299832078104],
    [4.384263469621947, 5, 12.844850198214075, 1.5232775442648748e-6],
    [16.404663479165183, 5, 6.444683324019742, 0.9751592385234331],
    [-61.32002749643049, 10, -11.761434969370029, 2.002457411345246e-6],
    [26.686197676214626, 10, 47.03126430902785, 0.0006439319654515449],
    [36.2116095726827, 20, 45.942408004414375, 0.043343408875862924],
    [-43.817555437082696, 20, -23.366943954274046, 0.0008835735971186542],
    [76.83544160440898, 34, 38.27320240664538, 0.9999971772469275],
    [0.3935592701578285, 50, 0.5888483234734778, 0.4218742609791423],
    [11.048568666863314, 99, 20.040776641673048, 1.5777783604996626e-12],
    [58.2786778147752, 99, 40.71537669967972, 0.9999915088298059],
    [13.176647622478251, 200, 18.34128839628029, 8.414559049953463e-6],
    [-22.88522365535131, 200, -25.23686242077098, 0.9408231142587977],
    [21.437681443771808, 200, 19.950374884835753, 0.8405202207518792],
    [-35.929536177464435, 500, -29.00451936285229, 2.0129199429369353e-6],
    [24.625791038667227, 500, 25.55867752521982, 0.2277266594293569],
    [-40.84921831638263, 1000, -34.582040383715594, 1.7100755611575662e-6],
  ])('at %d with %d degrees of freedom and δ %d is %d to 12 digits', (t, freedom, noncentrality, probability) => {
    expect(relativeError(noncentralTCdf(t, freedom, noncentrality), probability)).toBeLessThan(1e-12);
  });

  /**
   * The same probability another way round: T ≤ t just where χ² ≥ ν((Z + δ)/t)², so for a positive t it is a sum over Z, not over χ², of
   * the normal density times a chi-square tail. For even ν that tail is a finite Poisson sum. By Simpson's rule on a fine grid.
   */
  function bySummingOverZ(t: number, freedom: number, noncentrality: number): number {
    // Below -δ all of it is, whatever the spread.
    const [from, to, steps] = [Math.max(-9, -noncentrality), 12, 6000];
    const width = (to - from) / steps;
    let sum = 0;
    for (let i = 0; i <= steps; i++) {
      const z = from + i * width;
      const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
      const shifted = z + noncentrality;
      sum += weight * Math.exp((-z * z) / 2) * chiSquareTail(freedom * (shifted / t) ** 2, freedom);
    }
    return (sum * width) / 3 / Math.sqrt(2 * Math.PI) + normalCdf(from, 0, 1);
  }

  function chiSquareTail(x: number, evenFreedom: number): number {
    let term = 1;
    let sum = 1;
    for (let i = 1; i < evenFreedom / 2; i++) {
      term *= x / 2 / i;
      sum += term;
    }
    return Math.exp(-x / 2) * sum;
  }

  it('is what summing over the normal instead of the chi-square gives', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: -2, max: 20, noNaN: true }),
        fc.double({ min: 0.2, max: 25, noNaN: true }),
        (half, noncentrality, t) => {
          const expected = bySummingOverZ(t, 2 * half, noncentrality);
          expect(Math.abs(noncentralTCdf(t, 2 * half, noncentrality) - expected)).toBeLessThan(1e-10);
        },
      ),
      { numRuns: 60 },
    );
  });
});
