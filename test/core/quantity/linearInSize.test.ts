import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linearInSize, nearestDouble } from '../../../core/quantity/linearInSize.ts';

// The double that whole numbers give must be the one that the exact decimal of big.js is read as.

const digits = (most: number) => fc.stringMatching(new RegExp(`^[0-9]{1,${most}}$`));
const size = (most: number) =>
  fc.tuple(digits(most), fc.option(digits(most))).map(([whole, part]) => (part === null ? whole : `${whole}.${part}`));

describe('so much for each ohm and so much besides', () => {
  it('is the double nearest to the exact decimal, or none is given (property)', () => {
    let [given, notGiven] = [0, 0];
    fc.assert(
      fc.property(size(6), size(6), fc.constantFrom('', '-'), size(6), (slope, offset, sign, x) => {
        const wanted = Number(new Big(x).abs().times(slope).plus(offset).toFixed());
        const found = nearestDouble(linearInSize(new Big(slope), new Big(offset)), sign + x);
        if (found === null) notGiven++;
        else {
          given++;
          expect(found).toBe(wanted);
        }
      }),
      { numRuns: 5000 },
    );
    expect(given).toBeGreaterThan(100);
    expect(notGiven).toBeGreaterThan(0);
  });

  it('is not given where whole numbers are too large for a double, or something is below 0', () => {
    expect(nearestDouble(linearInSize(new Big('0.000100001'), new Big('0.1')), '4702.13')).toBe(
      // 4702.13 · 0.000100001 + 0.1, by hand.
      0.57021770213,
    );
    expect(nearestDouble(linearInSize(new Big('123456789.123456789'), new Big(0)), '123456789.12345')).toBeNull();
    expect(nearestDouble(linearInSize(new Big('-0.1'), new Big(0)), '1')).toBeNull();
    expect(nearestDouble(linearInSize(new Big('0.1'), new Big('-0.1')), '1')).toBeNull();
  });
});
