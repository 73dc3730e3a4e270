import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalText } from '../../../core/quantity/decimal.ts';
import { formatTolerance, parseTolerance } from '../../../core/window/parseTolerance.ts';
import type { Tolerance } from '../../../core/window/window.ts';

const percent = (plus: string, minus = plus): Tolerance => ({ kind: 'percent', plus, minus });
const ohms = (plus: string, minus = plus): Tolerance => ({ kind: 'ohms', plus, minus });
const limits = (lower: string | null, upper: string | null): Tolerance => ({ kind: 'limits', lower, upper });

describe('a tolerance as an engineer writes it', () => {
  it.each([
    ['1 %', percent('1')],
    ['1%', percent('1')],
    ['±0.1 %', percent('0.1')],
    ['+/-5 %', percent('5')],
    ['+-5%', percent('5')],
    ['.5 %', percent('0.5')],
    ['+5 -10 %', percent('5', '10')],
    ['+5 % -10 %', percent('5', '10')],
    ['+5 % / -10 %', percent('5', '10')],
    ['+5, −10 %', percent('5', '10')],
    ['0.5 ohm', ohms('0.5')],
    ['±0.5 Ω', ohms('0.5')],
    ['± 47R', ohms('47')],
    ['1k', ohms('1000')],
    ['5 mΩ', ohms('0.005')],
    ['+0.2 -0.1 ohm', ohms('0.2', '0.1')],
    ['4.6k to 4.8k', limits('4600', '4800')],
    ['4.6k .. 4.8k', limits('4600', '4800')],
    ['4.6k – 4.8k', limits('4600', '4800')],
    ['4653 to 4747', limits('4653', '4747')],
    ['4653 to 4747 ohm', limits('4653', '4747')],
    ['0 to 4.8k', limits('0', '4800')],
    ['>= 1M', limits('1000000', null)],
    ['≥1M', limits('1000000', null)],
    ['<= 0.1', limits(null, '0.1')],
    ['≤ 100 mΩ', limits(null, '0.1')],
  ])('reads %j', (text, tolerance) => expect(parseTolerance(text)).toEqual(tolerance));

  it.each([
    '',
    '5',
    '±5',
    '+5 -10',
    '+5 % -10',
    '+5 % -10 ohm',
    '+1 %',
    '-1 %',
    '1 ‰',
    '100 ppm',
    '1,5 %',
    '> 1M',
    '4.6 to 4.8k',
    '4.6 to 4.8 k',
    '4.6k to',
    'to 4.8k',
    '<= ',
    'about 1 %',
    `${'1'.repeat(70)} %`,
    `0.${'0'.repeat(70)}1 %`,
    // Figures that would grow together with what stands behind them, or leave open which a prefix belongs to.
    '+5 -1 0',
    '+5 -10 5',
    '+1 -1R5',
    '+1 -2k2',
    '+10 -4R7',
    '+0.2 -0.1k',
    '+2 -1 k',
  ])('refuses %j', (text) => {
    expect(() => parseTolerance(text)).toThrowError(expect.objectContaining({ code: 'tolerance-unreadable' }));
  });

  it('reads back what it shows (property)', () => {
    const number = fc
      .tuple(fc.bigInt(1n, 10n ** 12n), fc.nat(9))
      .map(([digits, places]) => {
        const padded = String(digits).padStart(places + 1, '0');
        const text = places === 0 ? padded : `${padded.slice(0, -places)}.${padded.slice(-places)}`;
        return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
      })
      .filter((text) => decimalText.safeParse(text).success);
    const tolerance = fc.oneof(
      fc.record({ kind: fc.constantFrom('percent' as const, 'ohms' as const), plus: number, minus: number }),
      fc.record({ kind: fc.constant('limits' as const), lower: number, upper: fc.option(number) }),
      fc.record({ kind: fc.constant('limits' as const), lower: fc.constant(null), upper: number }),
    );
    fc.assert(
      fc.property(tolerance, (given) => {
        expect(parseTolerance(formatTolerance(given))).toEqual(given);
      }),
    );
  });
});
