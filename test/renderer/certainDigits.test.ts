import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certainDigits } from '../../renderer/words/certainDigits.ts';

const split = (figures: string, unit: string, expanded: string | null) => {
  const { certain, uncertain } = certainDigits({ figures, unit }, expanded);
  return `${certain}|${uncertain}`;
};

// The rule is our own: a digit is certain where its step is worth U or more.
describe('digits below the uncertainty', () => {
  it('begin with the first digit whose step is smaller than U', () => {
    expect(split('4.70213', 'kΩ', '12')).toBe('4.7|0213');
    expect(split('4.70213', 'kΩ', '2.1')).toBe('4.70|213');
    // JCGM 100:2008, 7.2.4 (from memory) writes (100.021 47 ± 0.000 79) g; its last two digits are those of U.
    expect(split('100.02147', 'Ω', '0.00079')).toBe('100.021|47');
    expect(split('12.3', 'mΩ', '0.0002')).toBe('12|.3');
    expect(split('3.301', 'MΩ', '40000')).toBe('3.3|01');
  });

  it('leave a digit whose step is exactly U certain, and the one below it not', () => {
    expect(split('4.702', 'kΩ', '10')).toBe('4.70|2');
    expect(split('4.702', 'kΩ', '10.1')).toBe('4.7|02');
    expect(split('4.702', 'kΩ', '1')).toBe('4.702|');
  });

  it('may be none or all', () => {
    expect(split('4.702', 'kΩ', '0')).toBe('4.702|');
    expect(split('4.702', 'kΩ', null)).toBe('4.702|');
    expect(split('0.02', 'Ω', '3')).toBe('|0.02');
    expect(split('-0.012', 'Ω', '0.05')).toBe('-0.0|12');
    expect(split('4.702', 'kΩ', '5000')).toBe('|4.702');
  });

  it('are never lost, and a larger uncertainty never makes more digits certain', () => {
    const figures = fc
      .tuple(fc.nat(999), fc.nat(99_999))
      .map(([whole, part]) => `${whole}.${String(part).padStart(5, '0')}`);
    const expanded = fc.tuple(fc.integer({ min: 1, max: 99 }), fc.integer({ min: -6, max: 6 }));
    fc.assert(
      fc.property(figures, fc.constantFrom('mΩ', 'Ω', 'kΩ', 'MΩ', 'GΩ'), expanded, (shown, unit, [digits, power]) => {
        const at = (factor: number) =>
          certainDigits({ figures: shown, unit }, (digits * factor * 10 ** power).toFixed(6));
        expect(at(1).certain + at(1).uncertain).toBe(shown);
        expect(at(7).certain.length).toBeLessThanOrEqual(at(1).certain.length);
      }),
    );
  });
});
