/** SCPI numbers: a sign, one digit, decimals (eight where nothing is said), exponent of two digits. */
export function scpiNumber(value: number, decimals = 8): string {
  const [mantissa = '', exponent = ''] = Math.abs(value).toExponential(decimals).split('e');
  const sign = value < 0 ? '-' : '+';
  return `${sign}${mantissa}E${exponent.charAt(0)}${exponent.slice(1).padStart(2, '0')}`;
}
