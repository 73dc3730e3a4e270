import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acceptanceLimits, type DecisionRule, decisionRule, guardOhms } from '../../../core/window/decisionRule.ts';
import { judge } from '../../../core/window/judge.ts';

/** 4.7 kΩ ±1 %. */
const WINDOW = { nominal: '4700', lower: '4653', upper: '4747' };

const ruleOf = (rule: DecisionRule['rule'], guardFactor = '1') => decisionRule.parse({ rule, guardFactor });
const verdictOf = (rule: DecisionRule, ohms: string, expandedOhms: string | null = '0.9', window = WINDOW) =>
  judge(window, { kind: 'value', ohms, raw: ohms }, rule, expandedOhms);

describe('guard bands', () => {
  // ILAC-G8:09/2019, 4.2.2: A_L = T_L - w with w = r · U (by a secondary source); worked by hand.
  it('are r times U wide, and draw the limits in by that', () => {
    const guard = guardOhms(ruleOf('guard-band', '0.83'), '0.9');
    expect(guard.toFixed()).toBe('0.747');
    expect(acceptanceLimits(WINDOW, guard)).toEqual({ lower: '4653.747', upper: '4746.253' });
    expect(acceptanceLimits({ lower: null, upper: '4747' }, guard)).toEqual({ lower: null, upper: '4746.253' });
  });

  it('may leave one value and no less', () => {
    expect(acceptanceLimits(WINDOW, new Big(47))).toEqual({ lower: '4700', upper: '4700' });
    expect(() => acceptanceLimits(WINDOW, new Big('47.01'))).toThrowError(
      expect.objectContaining({ code: 'guard-bands-meet' }),
    );
  });

  it('are none with simple acceptance, whatever is known', () => {
    expect(guardOhms(ruleOf('simple-acceptance'), null).toFixed()).toBe('0');
    expect(guardOhms(ruleOf('simple-acceptance'), '5').toFixed()).toBe('0');
  });
});

describe('a verdict by its rule', () => {
  // U = 0.9, r = 1: bands from 4652.1 to 4653.9 and from 4746.1 to 4747.9, limits inside.
  it.each([
    ['4652.09', 'fail-low', 'fail-low', 'fail-low'],
    ['4652.10', 'fail-low', 'fail-low', 'conditional-fail-low'],
    ['4652.99', 'fail-low', 'fail-low', 'conditional-fail-low'],
    ['4653.00', 'pass', 'fail-low', 'conditional-pass'],
    ['4653.89', 'pass', 'fail-low', 'conditional-pass'],
    ['4653.90', 'pass', 'pass', 'pass'],
    ['4700.00', 'pass', 'pass', 'pass'],
    ['4746.10', 'pass', 'pass', 'pass'],
    ['4746.11', 'pass', 'fail-high', 'conditional-pass'],
    ['4747.00', 'pass', 'fail-high', 'conditional-pass'],
    ['4747.01', 'fail-high', 'fail-high', 'conditional-fail-high'],
    ['4747.90', 'fail-high', 'fail-high', 'conditional-fail-high'],
    ['4747.91', 'fail-high', 'fail-high', 'fail-high'],
  ])('of %s Ω is %s, %s, %s by simple acceptance, guard band, non-binary', (ohms, simple, guarded, nonBinary) => {
    expect(verdictOf(ruleOf('simple-acceptance'), ohms)).toBe(simple);
    expect(verdictOf(ruleOf('guard-band'), ohms)).toBe(guarded);
    expect(verdictOf(ruleOf('non-binary'), ohms)).toBe(nonBinary);
  });

  it('inside needs the uncertainty, and bands that leave something of the window', () => {
    for (const rule of [ruleOf('guard-band'), ruleOf('non-binary')]) {
      expect(() => verdictOf(rule, '4700.00', null)).toThrowError(
        expect.objectContaining({ code: 'uncertainty-unknown' }),
      );
      expect(() => verdictOf(rule, '4700.00', '48')).toThrowError(
        expect.objectContaining({ code: 'guard-bands-meet' }),
      );
    }
    expect(verdictOf(ruleOf('simple-acceptance'), '4700.00', null)).toBe('pass');
  });

  it('far outside is given however little its reading is known to be worth, so that a wrong value is a finding', () => {
    expect(verdictOf(ruleOf('guard-band'), '47000.0', null)).toBe('fail-high');
    expect(verdictOf(ruleOf('guard-band'), '47000.0', '50')).toBe('fail-high');
    expect(verdictOf(ruleOf('non-binary'), '47000.0', '50')).toBe('fail-high');
    expect(verdictOf(ruleOf('non-binary'), '47000.0', null), 'the weaker claim').toBe('conditional-fail-high');
    expect(verdictOf(ruleOf('non-binary'), '470.00', null)).toBe('conditional-fail-low');
  });

  it('never passes what simple acceptance fails, nor fails without condition what a guard band passes (property)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4_640_00, max: 4_760_00 }),
        fc.integer({ min: 0, max: 4_000 }),
        fc.constantFrom('0', '0.83', '1', '1.1'),
        (hundredths, thousandths, factor) => {
          const ohms = (hundredths / 100).toFixed(2);
          const expanded = (thousandths / 1000).toFixed(3);
          const simple = verdictOf(ruleOf('simple-acceptance'), ohms, expanded);
          const guarded = verdictOf(ruleOf('guard-band', factor), ohms, expanded);
          const nonBinary = verdictOf(ruleOf('non-binary', factor), ohms, expanded);
          if (simple !== 'pass') expect(guarded).toBe(simple);
          expect(nonBinary === 'pass').toBe(guarded === 'pass');
          // With a condition or without, it says on which side of the limits the value is.
          expect(nonBinary.endsWith('pass')).toBe(simple === 'pass');
        },
      ),
      { numRuns: 1000 },
    );
  });
});
