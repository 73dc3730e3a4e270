import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { statisticsOf } from '../../../core/certificate/statistics.ts';

/** Decimal text as a whole number of units of 10^-places. */
function units(text: string, places: number): bigint {
  const [whole = '', fraction = ''] = text.split('.');
  return BigInt(whole + fraction.padEnd(places, '0'));
}

describe('lowest, highest and mean of readings', () => {
  it('are null of nothing', () => {
    expect(statisticsOf([])).toBeNull();
  });

  it('are worked out by hand: 1 and 2 give 1.50, 0.1 0.2 0.4 give 0.233', () => {
    expect(statisticsOf(['1', '2'])).toEqual({ lowest: '1', highest: '2', mean: '1.50', decimals: 2 });
    expect(statisticsOf(['0.1', '0.4', '0.2'])).toEqual({ lowest: '0.1', highest: '0.4', mean: '0.233', decimals: 3 });
  });

  it('round half to even: 0.01 / 8 = 0.00125 to 0.0012, 0.03 / 8 = 0.00375 to 0.0038', () => {
    expect(statisticsOf(['0.01', ...Array<string>(7).fill('0')])?.mean).toBe('0.0012');
    expect(statisticsOf(['0.03', ...Array<string>(7).fill('0')])?.mean).toBe('0.0038');
  });

  it('keep the digits as they were read', () => {
    expect(statisticsOf(['4702.10', '4702.1', '4699.00'])).toMatchObject({ lowest: '4699.00', highest: '4702.10' });
  });

  it('agree with whole-number fractions (property)', () => {
    const reading = fc.tuple(fc.bigInt(-(10n ** 20n), 10n ** 20n), fc.nat(12)).map(([number, places]) => {
      const digits = String(number < 0n ? -number : number).padStart(places + 1, '0');
      const cut = digits.length - places;
      return (number < 0n ? '-' : '') + (places === 0 ? digits : `${digits.slice(0, cut)}.${digits.slice(cut)}`);
    });
    fc.assert(
      fc.property(fc.array(reading, { minLength: 1, maxLength: 40 }), (ohms) => {
        const found = statisticsOf(ohms);
        if (!found) throw new Error('nothing found');
        const { decimals } = found;
        const values = ohms.map((text) => units(text, decimals));
        const sum = values.reduce((a, b) => a + b, 0n);
        const count = BigInt(ohms.length);
        // mean - sum/count, times count: at most half a unit, and exactly half only at an even last digit
        const mean = units(found.mean, decimals);
        const off = 2n * (mean * count - sum);
        const size = off < 0n ? -off : off;
        expect(size <= count).toBe(true);
        if (size === count) expect(mean % 2n).toBe(0n);
        expect(found.mean.split('.')[1]).toHaveLength(decimals);
        expect(values.every((value) => value >= units(found.lowest, decimals))).toBe(true);
        expect(values.every((value) => value <= units(found.highest, decimals))).toBe(true);
      }),
    );
  });
});
