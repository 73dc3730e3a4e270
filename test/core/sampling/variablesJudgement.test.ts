import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareBeyond } from '../../../core/sampling/variablesEstimate.ts';
import { judgeByVariables } from '../../../core/sampling/variablesJudgement.ts';

const judge = (
  values: readonly number[],
  lower: string | null,
  upper: string | null,
  k: string,
  spreadOhms: string | null = null,
) => judgeByVariables(values, { limits: { lower, upper }, plan: { sampleSize: values.length, k }, spreadOhms });

describe('MIL-STD-414 (11 June 1957), Section B, examples', () => {
  const values = [197, 188, 184, 205, 201];

  it('B-1: Q 1.59 against k 1.53, accepted', () => {
    const { accepted, meanOhms, spreadOhms, limits, why } = judge(values, null, '209', '1.53');
    expect(accepted).toBe(true);
    expect(meanOhms).toBe(195);
    expect(spreadOhms).toBeCloseTo(8.803408, 6); // printed 8.81, from memory; computed exactly
    expect(limits[0]?.quality).toBeCloseTo(1.590293, 6);
    expect(why).toContain('1.59 standard deviations inside the upper limit 209 Ω; at least 1.53 (k)');
    expect(why).toContain('The lot is accepted.');
  });

  it('B-2 and B-3: shares beyond the limits, by exact Q and by Q as the standard rounds it', () => {
    const both = judge(values, '180', '209', '1.53');
    // Computed only: by exact Q 2.18231 % and .61690 %, M from k 3.2312 %.
    expect(100 * (both.limits[1]?.share as number)).toBeCloseTo(2.18231, 5);
    expect(100 * (both.limits[0]?.share as number)).toBeCloseTo(0.6169, 4);
    expect(100 * both.share).toBeCloseTo(2.79921, 5);
    expect(100 * both.mostShare).toBeCloseTo(3.2312, 4);
    expect(both.accepted).toBe(true);
    // The printed 2.19 %, .66 % and 2.85 % come of Q rounded to 1.59 and 1.70.
    expect(100 * shareBeyond(1.59, 5, 'unknown')).toBeCloseTo(2.19, 2);
    expect(100 * shareBeyond(1.7, 5, 'unknown')).toBeCloseTo(0.66, 2);
    expect(100 * (shareBeyond(1.59, 5, 'unknown') + shareBeyond(1.7, 5, 'unknown'))).toBeCloseTo(2.85, 2);
  });
});

describe('the estimated share beyond a limit', () => {
  it('is M of the tables for k of the tables (M of ANSI/ASQ Z1.9 by the vignette of the R package AQLSchemes: n 75, 3.17 %)', () => {
    expect(100 * shareBeyond(1.8409704, 75, 'unknown')).toBeCloseTo(3.17, 5);
  });

  it('has its plain forms for three and four pieces', () => {
    // n 4: the estimate is x itself; n 3: I_x(½, ½) is the arc sine law, 2/π·asin(√x).
    for (const quality of [-1.4, -0.6, 0, 0.3, 1, 1.49]) {
      const x = (n: number) => Math.min(1, Math.max(0, 0.5 - (0.5 * quality * Math.sqrt(n)) / (n - 1)));
      expect(shareBeyond(quality, 4, 'unknown')).toBeCloseTo(x(4), 14);
      expect(shareBeyond(quality, 3, 'unknown')).toBeCloseTo((2 / Math.PI) * Math.asin(Math.sqrt(x(3))), 13);
    }
  });

  it('falls as the limit is further away, is ½ at the mean, and mirrors (property)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 2000 }),
        fc.double({ min: -40, max: 40, noNaN: true }),
        fc.constantFrom('unknown' as const, 'known' as const),
        (n, quality, spread) => {
          const share = shareBeyond(quality, n, spread);
          expect(share).toBeGreaterThanOrEqual(0);
          expect(share).toBeLessThanOrEqual(1);
          expect(shareBeyond(0, n, spread)).toBeCloseTo(0.5, 12);
          expect(shareBeyond(-quality, n, spread)).toBeCloseTo(1 - share, 12);
          expect(shareBeyond(quality + 0.1, n, spread)).toBeLessThanOrEqual(share);
        },
      ),
    );
  });
});

describe('judging by variables', () => {
  const tenths = fc.integer({ min: -400, max: 400 }).map((steps) => Number((1000 + steps / 10).toFixed(1)));
  const anySample = fc.array(tenths, { minLength: 3, maxLength: 12 });
  const anyK = fc.integer({ min: -50, max: 300 }).map((hundredths) => (hundredths / 100).toFixed(2));
  const anySpread = fc.option(fc.integer({ min: 1, max: 300 }).map((steps) => (steps / 10).toFixed(1)));

  it('decides one limit by Q ≥ k, and says no NaN (property)', () => {
    fc.assert(
      fc.property(anySample, anyK, anySpread, tenths, fc.boolean(), (values, k, spreadOhms, limit, isUpper) => {
        const found = judge(values, isUpper ? null : String(limit), isUpper ? String(limit) : null, k, spreadOhms);
        const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
        const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
        const spread = spreadOhms === null ? Math.sqrt(squares / (values.length - 1)) : Number(spreadOhms);
        const margin = (isUpper ? limit - mean : mean - limit) - Number(k) * spread;
        if (Math.abs(margin) > 1e-9) expect(found.accepted).toBe(margin > 0);
        expect(JSON.stringify(found)).not.toMatch(/NaN|Infinity|undefined/);
        expect(found.why).not.toMatch(/NaN|Infinity|undefined/);
        expect(found.why).toMatch(found.accepted ? /The lot is accepted\.$/ : /The lot is not accepted\.$/);
      }),
      { numRuns: 1000 },
    );
  });

  it('is not decided by rounding where Q is k exactly', () => {
    // Means and spreads with few digits: Q is exactly k, and a digit more of k, or of the limit, is not reached. Of 0.1, 0.2 and 0.3
    // doubles make a mean that is not 0.2 and a spread that is not 0.1.
    expect(judge([0.1, 0.2, 0.3], null, '0.4', '2').accepted).toBe(true);
    expect(judge([0.1, 0.2, 0.3], null, '0.4', '2.00000000000000001').accepted).toBe(false);
    expect(judge([0.1, 0.2, 0.3], null, '0.39999999999999999999', '2').accepted).toBe(false);
    expect(judge([0.1, 0.2, 0.3], '0', null, '2').accepted).toBe(true);
    expect(judge([0.1, 0.2, 0.3], null, '0.35', '1.5', '0.1').accepted).toBe(true);
    expect(judge([0.1, 0.2, 0.3], null, '0.35', '1.51', '0.1').accepted).toBe(false);
    // The other share is 0, so nothing but Q decides with two limits either.
    expect(judge([0.1, 0.2, 0.3], '-5', '0.31', '1.1').accepted).toBe(true);
    expect(judge([0.1, 0.2, 0.3], '-5', '0.31', '1.10001').accepted).toBe(false);
  });

  it('asks the sum of both shares with two limits (property)', () => {
    fc.assert(
      fc.property(
        anySample,
        anyK,
        anySpread,
        tenths,
        fc.integer({ min: 1, max: 900 }),
        (values, k, spreadOhms, from, width) => {
          const [lower, upper] = [String(from), new Big(from).plus(width / 10).toFixed()];
          const both = judge(values, lower, upper, k, spreadOhms);
          const each = [judge(values, lower, null, k, spreadOhms), judge(values, null, upper, k, spreadOhms)];
          expect(both.share).toBeCloseTo(Math.min(1, (each[0]?.share as number) + (each[1]?.share as number)), 12);
          if (each.some(({ accepted }) => !accepted)) expect(both.accepted).toBe(false);
          else if (Math.abs(both.share - both.mostShare) > 1e-9)
            expect(both.accepted).toBe(both.share < both.mostShare || both.share === 0);
          expect(JSON.stringify(both)).not.toMatch(/NaN|Infinity|undefined/);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('accepts equal values within the limits and no others, and says so', () => {
    const inside = judge([100, 100, 100, 100], '99', '101', '1.17');
    expect(inside).toMatchObject({ accepted: true, share: 0, spreadOhms: 0 });
    expect(inside.why).toMatch(/All 4 values are equal, 100 Ω, and within the limits/);
    expect(judge([101, 101, 101, 101], '99', '101', '1.17').accepted).toBe(true);
    const outside = judge([98.9, 98.9, 98.9, 98.9], '99', '101', '1.17');
    expect(outside).toMatchObject({ accepted: false, share: 1 });
    expect(outside.why).toMatch(/All 4 values are equal, 98.9 Ω, beyond the lower limit 99 Ω/);
    // With known spread equal values are no special case.
    expect(judge([100.9, 100.9, 100.9], null, '101', '1.12', '1').accepted).toBe(false);
  });

  it('shows enough digits that words and decision agree', () => {
    // Q is 1.5299…: 1.53 in three digits.
    const { accepted, why } = judge([0.1, 0.2, 0.3], null, '0.3529999', '1.53');
    expect(accepted).toBe(false);
    expect(why).toContain('1.529999 standard deviations inside');
  });

  it('keeps its digits for large values that differ little', () => {
    const shifted = [197, 188, 184, 205, 201].map((value) => Number((1e6 + value / 1e6).toFixed(6)));
    const found = judge(shifted, null, '1000000.000209', '1.53');
    expect(found.limits[0]?.quality).toBeCloseTo(1.590293, 6);
    expect(found.spreadOhms * 1e6).toBeCloseTo(8.803408, 6);
  });

  it('takes no nonsense', () => {
    expect(() => judge([1, 2, 3], null, '4', '1', '0')).toThrow('variables-spread-impossible');
    expect(() => judge([1, 2, 3], null, '4', '1', '-1')).toThrow('variables-spread-impossible');
    expect(() => judge([1, Number.NaN, 3], null, '4', '1')).toThrow('figure-not-finite');
    expect(() => judge([1, 2], null, '4', '1')).toThrow(RangeError);
    expect(() => judge([1, 2, 3], null, null, '1')).toThrow(RangeError);
    expect(() =>
      judgeByVariables([1, 2, 3], {
        limits: { lower: null, upper: '4' },
        plan: { sampleSize: 4, k: '1' },
        spreadOhms: null,
      }),
    ).toThrow(RangeError);
  });
});
