import { describe, expect, it } from 'vitest';
import { shapeForVariables } from '../../../core/sampling/shapeForVariables.ts';
import { sortedOf } from '../../../core/statistics/values.ts';
import { normals, seeded } from '../statistics/seeded.ts';

const LIMITS = { nominal: 1000, lower: 950, upper: 1050 };

function drawn(n: number, next: () => number) {
  return sortedOf(Array.from({ length: n }, () => Number(next().toFixed(3))));
}

/** How many of 400 seeded lots sampling by variables may be used for. */
function allowedOf400(n: number, process: (seed: number) => () => number): number {
  let allowed = 0;
  for (let seed = 1; seed <= 400; seed++) {
    if (shapeForVariables(drawn(n, process(seed)), LIMITS).allowed) allowed++;
  }
  return allowed;
}

describe('whether sampling by variables may be used', () => {
  const normal = (seed: number) => {
    const next = normals(seed);
    return () => 1000 + 10 * next();
  };
  const skewed = (seed: number) => {
    const next = seeded(seed);
    return () => 980 - 10 * Math.log(next());
  };

  // Shares of seeded lots, computed by ourselves: about 2 in 1000 normal lots of few pieces are refused, at most 1 in 100 of many.
  it.each([10, 20, 50])('it may for normal lots of %i pieces', (n) => {
    expect(allowedOf400(n, normal)).toBeGreaterThanOrEqual(392);
  });

  it('it may not for a lot far from normal, the more surely the more pieces', () => {
    const found = [10, 25, 100].map((n) => allowedOf400(n, skewed));
    expect(found[2]).toBe(0);
    expect(found[1]).toBeLessThan(200);
    expect(found[0]).toBeGreaterThan(found[1] as number);
  });

  it('it may not for a sorted lot, in the words of the shape', () => {
    const next = normals(7);
    const hole: number[] = [];
    while (hole.length < 200) {
      const value = 1000 + 20 * next();
      if (Math.abs(value - 1000) > 10) hole.push(value);
    }
    const found = shapeForVariables(sortedOf(hole), LIMITS);
    expect(found).toMatchObject({ allowed: false });
    expect(found.allowed ? '' : found.why).toMatch(/picked out.*counting nonconforming pieces/);
  });

  it('says where it cannot be told', () => {
    const five = shapeForVariables(sortedOf([998, 999, 1000, 1001, 1003]), LIMITS);
    expect(five).toMatchObject({ allowed: true, words: expect.stringMatching(/5 pieces cannot show/) });
    const twenty = shapeForVariables(drawn(20, normal(1)), LIMITS);
    expect(twenty).toMatchObject({ allowed: true, words: expect.stringMatching(/As far as 20 pieces can show/) });
    const equal = shapeForVariables(sortedOf([1000, 1000, 1000, 1000]), LIMITS);
    expect(equal).toMatchObject({ allowed: true, words: expect.stringMatching(/equal/) });
    expect(shapeForVariables(drawn(100, normal(2)), LIMITS)).toEqual({ allowed: true, words: null });
  });

  it('says why few pieces are not taken for normal', () => {
    const found = shapeForVariables(
      sortedOf([999, 999.5, 1000, 1000.2, 1000.4, 1001, 1001.3, 1002, 1400, 1500]),
      LIMITS,
    );
    expect(found).toMatchObject({ allowed: false, why: expect.stringMatching(/Anderson-Darling \d+\.\d\d/) });
  });
});
