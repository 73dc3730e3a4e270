// What is a number in a meter's answer, worked out without the product's code and in another way: character by character
// and in whole numbers of any size.
//
// IEEE 488.2 8.7.2 <NR1>: an optional sign and at least one digit. 8.7.3 <NR2>: an optional sign, digits, a point, digits.
// 8.7.4 <NR3>: as NR2, then E, a sign and digits (forms from memory). Meters also leave out digits on one side of the point,
// the point or the exponent's sign, write a small e, and put blanks around (as 7.7.2 lets programs do; common practice).

/** The exact value: digits times ten to the power. */
export interface ExactNumber {
  digits: bigint;
  power: number;
  /** As the standard prints it, without any of the liberties meters take. */
  isStrict: boolean;
  exponentDigits: string;
}

/** The number that a text is as a whole; null where it is none. */
export function exactNumber(text: string): ExactNumber | null {
  let at = 0;
  const isDigit = () => at < text.length && text.charCodeAt(at) >= 48 && text.charCodeAt(at) <= 57;
  const takeDigits = () => {
    const from = at;
    while (isDigit()) at++;
    return text.slice(from, at);
  };
  const takeSign = () => {
    const found = text.charAt(at);
    if (found !== '+' && found !== '-') return '';
    at++;
    return found;
  };

  let end = text.length;
  while (text[end - 1] === ' ') end--;
  while (at < end && text[at] === ' ') at++;
  const hasBlanks = at > 0 || end < text.length;

  const sign = takeSign();
  const whole = takeDigits();
  const hasPoint = text[at] === '.';
  if (hasPoint) at++;
  const fraction = hasPoint ? takeDigits() : '';
  if (whole === '' && fraction === '') return null;
  let exponentSign = '';
  let exponentDigits = '';
  const mark = text[at] ?? '';
  if (mark === 'E' || mark === 'e') {
    at++;
    exponentSign = takeSign();
    exponentDigits = takeDigits();
    if (exponentDigits === '') return null;
  }
  if (at !== end) return null;
  const isPlain = !hasBlanks && whole !== '' && hasPoint === (fraction !== '');
  const size = BigInt(whole + fraction);
  return {
    digits: sign === '-' ? -size : size,
    power: (exponentSign === '-' ? -1 : 1) * Number(exponentDigits || '0') - fraction.length,
    isStrict: isPlain && (exponentDigits === '' || (mark === 'E' && exponentSign !== '' && hasPoint)),
    exponentDigits,
  };
}

/** Whether both are the same value. Powers must be small enough to write the numbers out. */
export function sameValue(one: ExactNumber, other: ExactNumber): boolean {
  const power = Math.min(one.power, other.power);
  return at(one, power) === at(other, power);
}

/** Less than 0, 0, or more: how the size of one compares with that of the other. */
export function compareSizes(one: ExactNumber, other: ExactNumber): number {
  const power = Math.min(one.power, other.power);
  const [a, b] = [size(at(one, power)), size(at(other, power))];
  return a < b ? -1 : a > b ? 1 : 0;
}

function at(number: ExactNumber, power: number): bigint {
  return number.digits * 10n ** BigInt(number.power - power);
}

function size(value: bigint): bigint {
  return value < 0n ? -value : value;
}
