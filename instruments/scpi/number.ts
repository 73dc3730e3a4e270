import Big from 'big.js';

/** One number as a SCPI instrument answers it. `text` is its exact value in plain decimals, with all digits it had. */
export type ScpiNumber = { kind: 'value'; text: string } | { kind: 'overload' } | { kind: 'not-a-number' };

// IEEE 488.2 8.7.2 to 8.7.4: NR1, NR2 and NR3 response data; lower-case e and blanks around are common practice.
const NUMBER = /^ *(?:\+|(-))?(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d{1,3}))? *$/;

const INFINITY = new Big('9.9E37');
const NOT_A_NUMBER = new Big('9.91E37');

/**
 * Reads a whole line as one number; null for anything else (units, several values, a decimal comma, half an exponent).
 * ±9.9E37 is overload and 9.91E37 is not-a-number, by value and not by spelling (SCPI-1999 volume 1, 7.2.1.4 and
 * 7.2.1.5); no other number of that size exists there, so none is accepted.
 */
export function readNumber(line: string): ScpiNumber | null {
  const match = NUMBER.exec(line);
  if (!match) return null;
  const [, sign = '', whole = '', fraction = '', exponent = '0'] = match;
  if (whole === '' && fraction === '') return null;
  const value = new Big(`${sign}${whole || '0'}.${fraction || '0'}e${exponent}`);
  const size = value.abs();
  if (size.gte(INFINITY)) {
    if (size.eq(INFINITY)) return { kind: 'overload' };
    return value.eq(NOT_A_NUMBER) ? { kind: 'not-a-number' } : null;
  }
  const decimals = Math.max(0, fraction.length - Number(exponent));
  const text = value.toFixed(decimals);
  return { kind: 'value', text: size.eq(0) ? text.replace('-', '') : text };
}

/** As `readNumber`, for answers that must be a plain value; null otherwise. */
export function readValue(line: string): Big | null {
  const number = readNumber(line);
  return number?.kind === 'value' ? new Big(number.text) : null;
}
