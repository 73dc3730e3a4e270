import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgePoint } from '../../../core/continuity/judgePoint.ts';
import { METER, OPEN } from './measured.ts';

// Leads and limits of this table are invented; its rules are those of ISO 14253-1, 5.2 and 5.3: conformity is stated only where the
// value differs from the limit by more than its uncertainty.
const limits = { closedBelowOhms: '2', openAboveOhms: '1000000' };
const judged = (
  expected: 'closed' | 'open',
  raw: string,
  range: 'set' | 'automatic' = 'set',
  limitOhms: string | null = null,
  meter = METER,
) => judgePoint({ expected, limitOhms }, { raw, range }, { limits, zeroOhms: '0.1', meter });

describe('a reading of a point', () => {
  it.each([
    // 0.3 - 0.1 Ω, uncertain by 0.1 Ω of leads, 0.01 % of 0.3 Ω + 0.005 % of 100 Ω, and a digit of 10 µΩ.
    [
      'closed',
      '+0.30000E+00',
      'set',
      { ohms: '0.20000', doubtOhms: '0.10504', found: 'closed', verdict: 'as-expected', reason: null },
    ],
    ['closed', OPEN, 'automatic', { ohms: null, found: 'open', verdict: 'not-as-expected', reason: 'no-connection' }],
    ['closed', '+0.50000E+02', 'set', { found: 'between', verdict: 'not-as-expected', reason: 'high-resistance' }],
    ['closed', '+2.05000E+00', 'set', { found: 'unsure', verdict: 'cannot-tell', reason: 'near-the-limit' }],
    ['closed', '+2.15000E+00', 'set', { verdict: 'cannot-tell', reason: 'near-the-limit' }],
    ['closed', '+2.30000E+00', 'set', { verdict: 'not-as-expected', reason: 'high-resistance' }],
    ['closed', '-0.50000E+00', 'set', { verdict: 'cannot-tell', reason: 'below-zero' }],
    ['closed', '-9.9E37', 'automatic', { verdict: 'cannot-tell', reason: 'below-zero' }],
    ['closed', OPEN, 'set', { found: 'between', verdict: 'not-as-expected', reason: 'high-resistance' }],
    ['open', OPEN, 'automatic', { found: 'open', verdict: 'as-expected', reason: null }],
    ['open', '+2.50000E+06', 'automatic', { found: 'open', verdict: 'as-expected' }],
    [
      'open',
      '+5.00000E+04',
      'automatic',
      { found: 'between', verdict: 'not-as-expected', reason: 'neither-open-nor-closed' },
    ],
    ['open', '+1.00001E+06', 'automatic', { verdict: 'cannot-tell', reason: 'near-the-limit' }],
    ['open', '+0.30000E+00', 'set', { found: 'closed', verdict: 'not-as-expected', reason: 'cross-connection' }],
    ['open', '+2.05000E+00', 'set', { verdict: 'not-as-expected', reason: 'neither-open-nor-closed' }],
    // Overload on the 100 Ω range says nothing of a megohm.
    ['open', OPEN, 'set', { found: 'unsure', verdict: 'cannot-tell', reason: 'range-too-small' }],
  ] as const)('that is to be %s and says %s on the range %s', (expected, raw, range, wanted) => {
    expect(judged(expected, raw, range)).toMatchObject(wanted);
  });

  it('is held against a limit of its own', () => {
    expect(judged('closed', '+0.80000E+00', 'set', '0.5')).toMatchObject({ verdict: 'not-as-expected' });
    expect(judged('open', '+5.00000E+04', 'automatic', '10000')).toMatchObject({ verdict: 'as-expected' });
  });

  it('of a meter whose accuracy nobody entered is uncertain by 2 % and 5 digits more', () => {
    const { doubtOhms } = judged('closed', '+1.0000E+00', 'set', null, { ...METER, data: null });
    // 2 % of 1 Ω, 5 digits of 0.1 mΩ, one digit, 0.1 Ω of leads.
    expect(doubtOhms).toBe('0.1206');
  });

  it('is as expected only where its limit is further away than it is uncertain', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('closed' as const, 'open' as const),
        fc.double({ min: -3, max: 9, noNaN: true }),
        (expected, power) => {
          const value = 10 ** power;
          const { ohms, doubtOhms, verdict, found } = judged(
            expected,
            value.toExponential(5),
            value > 100 ? 'automatic' : 'set',
          );
          const [low, high] = [new Big(ohms ?? 0).minus(doubtOhms), new Big(ohms ?? 0).plus(doubtOhms)];
          if (verdict === 'as-expected') {
            expect(expected === 'closed' ? high.lt('2') : low.gt('1000000')).toBe(true);
            expect(found).toBe(expected);
          }
          if (verdict === 'not-as-expected')
            expect(expected === 'closed' ? low.gte('2') : high.lte('1000000')).toBe(true);
        },
      ),
    );
  });
});
