import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseOhms } from '../../../core/quantity/parseOhms.ts';
import { judge } from '../../../core/window/judge.ts';
import { parseTolerance } from '../../../core/window/parseTolerance.ts';
import { windowOf } from '../../../core/window/window.ts';

const from = (nominal: string, tolerance: string) =>
  windowOf(nominal === '' ? null : parseOhms(nominal), parseTolerance(tolerance));
const verdictOf = (window: ReturnType<typeof windowOf>, ohms: string) =>
  judge(window, { kind: 'value', ohms, raw: `${ohms}${ohms.includes('.') ? '' : '.'}${'0'.repeat(40)}` });

describe('the window of a part', () => {
  // Worked by hand: 8.2 x 0.05 = 0.41. In binary floating point 8.2 * 0.95 is 7.789999999999999.
  it('of 8.2 ohm 5 % is 7.79 to 8.61 exactly, both inside', () => {
    const window = from('8.2', '5 %');
    expect(window).toEqual({ nominal: '8.2', lower: '7.79', upper: '8.61' });
    expect(verdictOf(window, '7.790')).toBe('pass');
    expect(verdictOf(window, '7.789')).toBe('fail-low');
    expect(verdictOf(window, '8.610')).toBe('pass');
    expect(verdictOf(window, '8.611')).toBe('fail-high');
    expect(verdictOf(window, '8.6100000000000000000000000001')).toBe('fail-high');
  });

  // Nominal and tolerance as in IEC 60115-1 (form from memory), limits worked by hand; both limits belong to the window.
  it.each([
    ['1k', '1 %', '990', '1010'],
    ['4k7', '5 %', '4465', '4935'],
    ['0R47', '5 %', '0.4465', '0.4935'],
    ['2M2', '10 %', '1980000', '2420000'],
    ['10k', '.1 %', '9990', '10010'],
  ])('of %s %s is %s to %s', (nominal, tolerance, lower, upper) => {
    const window = from(nominal, tolerance);
    expect(window).toMatchObject({ lower, upper });
    expect(verdictOf(window, lower)).toBe('pass');
    expect(verdictOf(window, upper)).toBe('pass');
  });

  it.each([
    ['100', '+5 -10 %', '90', '105'],
    ['100', '0.5 ohm', '99.5', '100.5'],
    ['100', '+0.2 -0.1 ohm', '99.9', '100.2'],
    ['4k7', '4.6k to 4.8k', '4600', '4800'],
    ['', '4.6k to 4.8k', '4600', '4800'],
    ['', '>= 1M', '1000000', null],
    ['', '<= 0.1', null, '0.1'],
    ['0', '<= 0.05', null, '0.05'],
    ['0', '0.05 ohm', '-0.05', '0.05'],
    ['10', '100 %', '0', '20'],
  ])('of %j with %s is %s to %s', (nominal, tolerance, lower, upper) =>
    expect(from(nominal, tolerance)).toMatchObject({ lower, upper }),
  );

  it.each([
    ['', '1 %', 'window-without-nominal'],
    ['', '0.5 ohm', 'window-without-nominal'],
    ['0', '5 %', 'window-percent-of-zero'],
    ['100', '101 %', 'tolerance-too-wide'],
    ['100', '4.8k to 4.6k', 'window-upside-down'],
    ['', '5k to 5k', 'window-upside-down'],
    ['100', '0 %', 'window-upside-down'],
    ['10k', '4.6k to 4.8k', 'nominal-outside-window'],
    ['1', '>= 1M', 'nominal-outside-window'],
  ])('of %j with %s is refused: %s', (nominal, tolerance, code) =>
    expect(() => from(nominal, tolerance)).toThrowError(expect.objectContaining({ code })),
  );

  it('is refused where no limit is given', () => {
    expect(() => windowOf(null, { kind: 'limits', lower: null, upper: null })).toThrowError(
      expect.objectContaining({ code: 'tolerance-unreadable' }),
    );
  });

  it('equals the exact fraction, and judges as it (property)', () => {
    const places = fc.nat(9);
    const digits = fc.bigInt(1n, 10n ** 13n);
    fc.assert(
      fc.property(
        digits,
        places,
        fc.bigInt(1n, 100_000n),
        fc.bigInt(1n, 100_000n),
        digits,
        places,
        (n, a, p, m, r, b) => {
          // nominal n / 10^a ohm, tolerance +p/1000 -m/1000 %, reading r / 10^b ohm
          const nominal = new Big(String(n)).times(`1e-${a}`);
          const percent = (thousandths: bigint) => new Big(String(thousandths)).times('0.001').toFixed();
          const window = windowOf(nominal, { kind: 'percent', plus: percent(p), minus: percent(m) });

          // limit = n (100000 -+ tolerance) / (10^a 100000), compared crosswise in whole numbers
          const denominator = 10n ** BigInt(a) * 100_000n;
          const [lower, upper] = [n * (100_000n - m), n * (100_000n + p)];
          const whole = (text: string | null, places: number) => {
            const [integer = '', fraction = ''] = (text ?? '').split('.');
            return BigInt(integer + fraction.padEnd(places, '0'));
          };
          const fine = 20;
          expect(whole(window.lower, fine) * denominator).toBe(lower * 10n ** BigInt(fine));
          expect(whole(window.upper, fine) * denominator).toBe(upper * 10n ** BigInt(fine));

          const scaled = r * denominator;
          const scale = 10n ** BigInt(b);
          const expected = scaled < lower * scale ? 'fail-low' : scaled > upper * scale ? 'fail-high' : 'pass';
          expect(verdictOf(window, new Big(String(r)).times(`1e-${b}`).toFixed())).toBe(expected);
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('the verdict of a reading', () => {
  const window = from('4k7', '1 %');

  it('is open for the overload of the meter, whatever the window', () => {
    expect(judge(window, { kind: 'overload', raw: '9.9E37' })).toBe('open');
    expect(judge(from('', '>= 1M'), { kind: 'overload', raw: '9.9E37' })).toBe('open');
  });

  // The rule of ten (common practice): an instrument's last digit is worth no more than a tenth of what it must tell apart.
  it('refuses a reading whose last digit is too coarse for the window, and only that', () => {
    const read = (raw: string, ohms: string) => () => judge(window, { kind: 'value', ohms, raw });
    expect(read('+4.70E+03', '4700')).toThrowError(expect.objectContaining({ code: 'reading-too-coarse' }));
    expect(read('+4.7E+03', '4700')).toThrowError(expect.objectContaining({ code: 'reading-too-coarse' }));
    expect(read('+4.700E+03', '4700')()).toBe('pass');
    // A wrong value read on a high range: coarse, and plainly outside.
    expect(read('+1.00E+07', '10000000')()).toBe('fail-high');
    expect(read('+1E+02', '100')()).toBe('fail-low');
    expect(() => judge(from('', '<= 0.05'), { kind: 'value', ohms: '0', raw: '+0.000E+08' })).toThrowError(
      expect.objectContaining({ code: 'reading-too-coarse' }),
    );
  });

  it('refuses a negative overload: no resistor is that', () => {
    expect(() => judge(window, { kind: 'overload', raw: '-9.9E37' })).toThrowError(
      expect.objectContaining({ code: 'reading-negative' }),
    );
  });

  it('has no window around a value that a short would pass', () => {
    for (const tolerance of ['20 ohm', '10.01 ohm', '10K', '+1 -11 ohm']) {
      expect(() => from('10', tolerance), tolerance).toThrowError(
        expect.objectContaining({ code: 'tolerance-too-wide' }),
      );
    }
    expect(from('10', '10 ohm')).toMatchObject({ lower: '0', upper: '20' });
    expect(from('0', '0.05 ohm')).toMatchObject({ lower: '-0.05', upper: '0.05' });
  });

  it('checks only the limit there is', () => {
    expect(verdictOf(from('', '>= 1M'), '1'.padEnd(31, '0'))).toBe('pass');
    expect(verdictOf(from('', '>= 1M'), '999999.999')).toBe('fail-low');
    expect(verdictOf(from('', '<= 0.1'), '0')).toBe('pass');
    expect(verdictOf(from('', '<= 0.1'), '-0.0005')).toBe('pass');
    expect(verdictOf(from('', '<= 0.1'), '0.1001')).toBe('fail-high');
  });

  it('is no verdict far below zero', () => {
    expect(verdictOf(window, '-47.47')).toBe('fail-low');
    for (const ohms of ['-47.48', '-4700', '-99999999']) {
      expect(() => verdictOf(window, ohms)).toThrowError(expect.objectContaining({ code: 'reading-negative' }));
    }
    expect(() => verdictOf(from('', '<= 0.1'), '-0.5')).toThrowError(
      expect.objectContaining({ code: 'reading-negative' }),
    );
    expect(() => verdictOf(from('', '>= 1M'), '-20000')).toThrowError(
      expect.objectContaining({ code: 'reading-negative' }),
    );
    // A piece of 0 Ω may read as far below nothing as its reading is uncertain.
    const ofPiece = (ohms: string, expandedOhms: string) =>
      judge(from('', '<= 0.05'), { kind: 'value', ohms, raw: ohms }, undefined, expandedOhms);
    expect(ofPiece('-0.0058', '0.0058')).toBe('pass');
    expect(() => ofPiece('-0.0059', '0.0058')).toThrowError(expect.objectContaining({ code: 'reading-negative' }));
    // A window that reaches below zero takes what lies in it.
    expect(verdictOf(from('0', '0.05 ohm'), '-0.05')).toBe('pass');
  });
});
