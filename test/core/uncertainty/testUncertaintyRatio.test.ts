import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { testUncertaintyRatio } from '../../../core/uncertainty/testUncertaintyRatio.ts';

// The 4:1 of the checks is common practice.
describe('test uncertainty ratio', () => {
  const window = { lower: '4653', upper: '4747' };

  it('is the tolerance over U, and 4 is enough', () => {
    expect(testUncertaintyRatio(window, '11.75')).toEqual({ ratio: '4', warning: null });
    expect(testUncertaintyRatio(window, '0.47')).toEqual({ ratio: '100', warning: null });
  });

  it('warns below 4, by exact decimals, and never rounds up to it', () => {
    const below = testUncertaintyRatio(window, '11.750000000000000001');
    expect(below?.ratio).toBe('3.9');
    expect(below?.warning).toContain('3.9 times');
    expect(testUncertaintyRatio(window, '470')?.ratio).toBe('0.1');
  });

  it('a one-sided window counts half of its limit', () => {
    expect(testUncertaintyRatio({ lower: null, upper: '0.05' }, '0.005')?.ratio).toBe('5');
    expect(testUncertaintyRatio({ lower: '1000000', upper: null }, '1000')?.ratio).toBe('500');
  });

  it('nothing uncertain, nothing known, nothing tolerated', () => {
    expect(testUncertaintyRatio(window, '0')).toEqual({ ratio: null, warning: null });
    expect(testUncertaintyRatio(window, null)).toBeNull();
    expect(testUncertaintyRatio({ lower: null, upper: '0' }, '0.01')?.ratio).toBe('0');
  });

  it('shows the quotient to two figures, at most one last figure too low', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10_000_000 }),
        fc.integer({ min: 1, max: 10_000_000 }),
        (width, expanded) => {
          const shown = Number(testUncertaintyRatio({ lower: '0', upper: String(width) }, String(expanded))?.ratio);
          const ratio = width / 2 / expanded;
          expect(shown).toBeLessThanOrEqual(ratio * (1 + 1e-12));
          expect(shown).toBeGreaterThan(ratio * (10 / 11) * (1 - 1e-12));
        },
      ),
    );
  });
});
