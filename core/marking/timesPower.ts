import type { DecimalText } from '../quantity/decimal.ts';

/**
 * Whole figures times a power of ten, as the shortest plain decimal. Worked out on the text: exact, and a table of millions of
 * markings costs little.
 * @param figures one digit or more
 */
export function timesPower(figures: string, power: number): DecimalText {
  if (power >= 0) return withoutLeadingZeros(figures + '0'.repeat(power));
  const padded = figures.padStart(1 - power, '0');
  const whole = withoutLeadingZeros(padded.slice(0, power));
  const decimals = padded.slice(power).replace(/0+$/, '');
  return decimals === '' ? whole : `${whole}.${decimals}`;
}

function withoutLeadingZeros(digits: string): string {
  return digits.replace(/^0+(?=\d)/, '');
}
