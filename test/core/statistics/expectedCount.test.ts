import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { expectedCount } from '../../../core/statistics/expectedCount.ts';

it('shares out all readings among bins that lie side by side', () => {
  const narrow = fc.double({ min: 1e-3, max: 10, noNaN: true });
  fc.assert(
    fc.property(narrow, narrow, fc.integer({ min: 1, max: 100_000 }), (standardDeviation, width, n) => {
      const reach = Math.ceil((9 * standardDeviation) / width) + 1;
      let sum = 0;
      for (let bin = -reach; bin <= reach; bin++) {
        sum += expectedCount({ mean: 0.3, standardDeviation, n }, 0.3 + bin * width, width);
      }
      expect(sum / n).toBeCloseTo(1, 9);
    }),
    { numRuns: 60 },
  );
});

it('is 68.27 % of them within one standard deviation of the mean (any table of the normal distribution)', () => {
  expect(expectedCount({ mean: 4700, standardDeviation: 16, n: 10_000 }, 4700, 32)).toBeCloseTo(6826.9, 1);
});

it('never exceeds the readings, however narrow they lie', () => {
  expect(expectedCount({ mean: 1, standardDeviation: 1e-9, n: 50 }, 1, 0.1)).toBe(50);
});
