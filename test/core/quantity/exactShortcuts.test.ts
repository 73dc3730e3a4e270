import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareDecimals, subtract } from '../../../core/quantity/decimal.ts';
import { meterNumber } from '../../../core/quantity/meterNumber.ts';
import { significant } from '../../../core/quantity/significant.ts';

// Where doubles or whole numbers stand in for exact decimals, the answer must be that of exact decimals, here those of big.js.

const digits = (most: number) => fc.stringMatching(new RegExp(`^[0-9]{1,${most}}$`));
const decimal = fc
  .tuple(fc.constantFrom('', '-'), digits(12), fc.option(digits(10)))
  .map(([sign, whole, fraction]) => `${sign}${whole}${fraction === null ? '' : `.${fraction}`}`);

const decimalsOf = (text: string) => text.split('.')[1]?.length ?? 0;

describe('exact decimals', () => {
  it('are subtracted as big.js does (property)', () => {
    fc.assert(
      fc.property(decimal, decimal, (value, less) => {
        const wanted = new Big(value).minus(less).toFixed(Math.max(decimalsOf(value), decimalsOf(less)));
        // big.js writes -0 for a zero that comes from below.
        expect(subtract(value, less)).toBe(less === '0' ? value : wanted.replace(/^-(?=[0.]*$)/, ''));
      }),
      { numRuns: 2000 },
    );
  });

  it('are compared as big.js does, those that one double stands for too (property)', () => {
    const close = fc
      .tuple(decimal, digits(20))
      .map(([text, tail]) => (text.includes('.') ? text + tail : `${text}.${tail}`));
    fc.assert(
      fc.property(fc.oneof(decimal, close), fc.oneof(decimal, close), (first, second) => {
        expect(Math.sign(compareDecimals(first, second))).toBe(new Big(first).cmp(second));
      }),
      { numRuns: 2000 },
    );
    expect(Math.sign(compareDecimals('4700.00000000000000000001', '4700'))).toBe(1);
    expect(compareDecimals('4700.0', '4700')).toBe(0);
  });

  it('of a meter are the value that big.js reads, with all its digits (property)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('', '+', '-'),
        digits(12),
        fc.option(digits(12)),
        fc.option(fc.integer({ min: -20, max: 20 })),
        (sign, whole, fraction, exponent) => {
          const raw = `${sign}${whole}${fraction === null ? '' : `.${fraction}`}${exponent === null ? '' : `E${exponent}`}`;
          const decimals = Math.max(0, (fraction ?? '').length - (exponent ?? 0));
          const value = new Big(raw.replace(/^\+/, ''));
          const wanted = value.toFixed(decimals);
          expect(meterNumber(raw)).toEqual({ kind: 'value', text: value.eq(0) ? wanted.replace('-', '') : wanted });
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('that are as good as nothing are 0, and none that are not (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e-11, max: 1e-11, noNaN: true }),
        fc.integer({ min: 1, max: 9 }),
        (value, figures) => {
          const rounded = new Big(value.toPrecision(figures));
          const isNothing = rounded.eq(0) || rounded.round(12).eq(0);
          expect(significant(value, figures) === '0').toBe(isNothing);
        },
      ),
    );
  });
});
