import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_PIECES, type TwoPoints, twoPointPlan } from '../../../core/sampling/twoPoint.ts';
import { exactAtMost, exactBinomialAtMost } from './exactFractions.ts';

const points = (
  acceptedPercent: string,
  producerRiskPercent: string,
  refusedPercent: string,
  consumerRiskPercent: string,
  distribution: TwoPoints['distribution'] = 'binomial',
): TwoPoints => ({ acceptedPercent, producerRiskPercent, refusedPercent, consumerRiskPercent, distribution });

describe('two-point plans for lots from a process', () => {
  it.each([
    // The manual of the R package AcceptanceSampling: n 80, c 7.
    ['5', '5', '15', '7.5', 80, 7],
    // The vignette of the R package AQLSchemes: n 359; its acceptance number worked out with another program.
    ['1.9296', '5', '4.5884', '10', 359, 11],
    // Worked out with another program (shared check values, section 7.3).
    ['1', '5', '6', '10', 110, 3],
  ])('accept %s %% but for %s %%, refuse %s %% but for %s %%: n %i, c %i', (p1, alpha, p2, beta, sampleSize, accept) =>
    expect(twoPointPlan(points(p1, alpha, p2, beta))).toMatchObject({ sampleSize, accept, reject: accept + 1 }),
  );

  it('have the chances they say: those of the manual of AcceptanceSampling, worked out', () => {
    const { chanceAccepted, chanceRefused } = twoPointPlan(points('5', '5', '15', '7.5'));
    expect(chanceAccepted).toBeCloseTo(0.95341, 5);
    expect(chanceRefused).toBeCloseTo(0.07272, 5);
  });

  it('meet a risk that is met to the digit: one piece, half of them bad, half the lots accepted', () => {
    expect(twoPointPlan(points('25', '25', '50', '50'))).toMatchObject({ sampleSize: 1, accept: 0 });
  });
});

/** The smallest sample, and every acceptance number for it, by trying them all. */
function byTrying(
  isPlan: (n: number, c: number) => boolean,
  most: number,
): { sampleSize: number; accepts: number[] } | null {
  for (let n = 1; n <= most; n++) {
    const accepts = Array.from({ length: n }, (_, c) => c).filter((c) => isPlan(n, c));
    if (accepts.length > 0) return { sampleSize: n, accepts };
  }
  return null;
}

const tenths = (min: number, max: number) => fc.integer({ min, max });
const text = (n: number) => (n / 10).toFixed(1);
const anyRisk = tenths(10, 400);
const anyQualities = fc
  .tuple(tenths(1, 300), tenths(50, 600))
  .map(([better, apart]) => [better, better + apart] as const);

describe('two-point plans are the smallest of all', () => {
  it('for lots from a process, against every n and c in exact fractions', () => {
    fc.assert(
      fc.property(anyQualities, anyRisk, anyRisk, ([p1, p2], alpha, beta) => {
        const isPlan = (n: number, c: number) =>
          exactBinomialAtMost(c, n, p1, 1000) >= 1 - alpha / 1000 - 1e-12 &&
          exactBinomialAtMost(c, n, p2, 1000) <= beta / 1000 + 1e-12;
        const tried = byTrying(isPlan, 40);
        const found = twoPointPlan(points(text(p1), text(alpha), text(p2), text(beta)));
        if (tried === null) expect(found.sampleSize).toBeGreaterThan(40);
        else expect([found.sampleSize, [found.accept]]).toEqual([tried.sampleSize, tried.accepts]);
      }),
      { numRuns: 60 },
    );
  });

  it('for one lot, against every n and c in exact fractions', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 45 }), anyQualities, anyRisk, anyRisk, (lotSize, [p1, p2], alpha, beta) => {
        const better = Math.floor((lotSize * p1) / 1000);
        const worse = Math.ceil((lotSize * p2) / 1000);
        const chance = (c: number, nonconforming: number, sampleSize: number) =>
          exactAtMost(c, { lotSize, nonconforming, sampleSize });
        const isPlan = (n: number, c: number) =>
          chance(c, better, n) >= 1 - alpha / 1000 - 1e-12 && chance(c, worse, n) <= beta / 1000 + 1e-12;
        const tried = byTrying(isPlan, lotSize);
        const found = twoPointPlan(points(text(p1), text(alpha), text(p2), text(beta), { lotSize }));
        expect(found.sampleSize).toBe(tried?.sampleSize);
        expect(tried?.accepts).toContain(found.accept);
      }),
      { numRuns: 150 },
    );
  });

  it('and grow when a risk gets smaller', () => {
    fc.assert(
      fc.property(anyQualities, anyRisk, anyRisk, ([p1, p2], alpha, beta) => {
        const size = (a: number, b: number) => twoPointPlan(points(text(p1), text(a), text(p2), text(b))).sampleSize;
        expect(size(alpha + 10, beta)).toBeLessThanOrEqual(size(alpha, beta));
        expect(size(alpha, beta + 10)).toBeLessThanOrEqual(size(alpha, beta));
      }),
    );
  });
});

describe('two-point plans for one lot', () => {
  it('need fewer pieces than for a process, and as many where the lot is large', () => {
    const size = (lotSize: number) => twoPointPlan(points('1', '5', '6', '10', { lotSize })).sampleSize;
    expect(size(500)).toBeLessThan(110);
    expect(size(1_000_000)).toBe(110);
  });

  it('become the whole lot where nothing less can tell', () => {
    const lotSize = 20;
    // One bad piece is refused, none accepted, at a risk of less than one in twenty.
    expect(twoPointPlan(points('4', '1', '5', '4.9', { lotSize }))).toMatchObject({ sampleSize: 20, accept: 0 });
    expect(twoPointPlan(points('4', '1', '5', '5', { lotSize }))).toMatchObject({ sampleSize: 19, accept: 0 });
  });
});

describe('two-point plans are refused', () => {
  it.each([
    [points('5', '5', '5', '10'), 'points-not-apart'],
    [points('6', '5', '5', '10'), 'points-not-apart'],
    [points('0', '5', '5', '10'), 'quality-percent-impossible'],
    [points('1', '5', '101', '10'), 'quality-percent-impossible'],
    [points('1', '0', '5', '10'), 'risk-percent-impossible'],
    [points('1', '100', '5', '10'), 'risk-percent-impossible'],
    [points('1', '5', '5', '0'), 'risk-percent-impossible'],
    [points('1', '5', '5', '100'), 'risk-percent-impossible'],
    [points('1', '5', '5', '10', { lotSize: 0 }), 'lot-empty'],
    [points('1', '5', '1.01', '10'), 'plan-too-large'],
    [points('49.9', '5', '50', '10'), 'plan-too-large'],
    [points('1', '5', '1.0001', '10', { lotSize: 10_000_000 }), 'plan-too-large'],
  ])('for %j: %s', (asked, code) => expect(() => twoPointPlan(asked)).toThrowError(expect.objectContaining({ code })));

  it('not before the largest sample that is looked for', () => {
    const { sampleSize } = twoPointPlan(points('1', '5', '1.1', '10'));
    expect(sampleSize).toBeGreaterThan(MOST_PIECES / 2);
    expect(sampleSize).toBeLessThanOrEqual(MOST_PIECES);
  });
});
