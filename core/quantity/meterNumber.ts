import Big from 'big.js';

/** One number as a SCPI instrument writes it. `text` is its exact value in plain decimals, with all digits it had. */
export type MeterNumber = { kind: 'value'; text: string } | { kind: 'overload' } | { kind: 'not-a-number' };

// IEEE 488.2 8.7.2 to 8.7.4: NR1, NR2 and NR3 response data; lower-case e and blanks around are common practice.
const NUMBER = /^ *(?:\+|(-))?(\d*)(?:\.(\d*))?(?:[eE]([+-]?0?\d{1,2}))? *$/;

const INFINITY = new Big('9.9E37');
const NOT_A_NUMBER = new Big('9.91E37');

/** As many as decimal texts may have (decimal.ts); no meter resolves anything near that. */
const MOST_DECIMALS = 60;

/** Numbers of so few digits, the point no further from them, are far from those that stand for something else. */
const FEW_DIGITS = 24;

/** So many digits, the decimal point so many behind the first, as {@link Big.toFixed} would write them. */
function moved(sign: string, digits: string, point: number): string {
  const padded = point <= 0 ? '0'.repeat(1 - point) + digits : digits.padEnd(point, '0');
  const before = Math.max(1, point);
  const whole = padded.slice(0, before).replace(/^0+(?=\d)/, '');
  const fraction = padded.slice(before);
  const text = fraction === '' ? whole : `${whole}.${fraction}`;
  return sign === '-' && /[1-9]/.test(digits) ? `-${text}` : text;
}

/** Sign, digits before and behind the point, and exponent; null where a text is no number. */
function partsOf(raw: string): { sign: string; whole: string; fraction: string; exponent: string } | null {
  const match = NUMBER.exec(raw);
  if (!match) return null;
  const [, sign = '', whole = '', fraction = '', exponent = '0'] = match;
  return whole === '' && fraction === '' ? null : { sign, whole, fraction, exponent };
}

/** Whether a number is so small, and of so few digits, that it can stand for nothing else. */
function isPlain({ whole, fraction, exponent }: { whole: string; fraction: string; exponent: string }): boolean {
  return whole.length + fraction.length <= FEW_DIGITS && Math.abs(whole.length + Number(exponent)) <= FEW_DIGITS;
}

/** Whether {@link meterNumber} reads a text, which takes a third of the time of reading it. */
export function isMeterNumber(raw: string): boolean {
  const parts = partsOf(raw);
  return parts !== null && (isPlain(parts) || meterNumber(raw) !== null);
}

/**
 * Reads a meter's text as one whole number; null for anything else (units, several values, a decimal comma, half an
 * exponent). ±9.9E37 is overload and 9.91E37 is not-a-number, by value and not by spelling (SCPI-1999 volume 1, 7.2.1.4
 * and 7.2.1.5); no other number of that size exists there, so none is accepted.
 */
export function meterNumber(raw: string): MeterNumber | null {
  const parts = partsOf(raw);
  if (parts === null) return null;
  const { sign, whole, fraction, exponent } = parts;
  if (isPlain(parts)) {
    return { kind: 'value', text: moved(sign, whole + fraction, whole.length + Number(exponent)) };
  }
  const value = new Big(`${sign}${whole || '0'}.${fraction || '0'}e${exponent}`);
  const size = value.abs();
  if (size.gte(INFINITY)) {
    if (size.eq(INFINITY)) return { kind: 'overload' };
    return value.eq(NOT_A_NUMBER) ? { kind: 'not-a-number' } : null;
  }
  const decimals = Math.max(0, fraction.length - Number(exponent));
  if (decimals > MOST_DECIMALS) return null;
  const text = value.toFixed(decimals);
  return { kind: 'value', text: size.eq(0) ? text.replace('-', '') : text };
}
