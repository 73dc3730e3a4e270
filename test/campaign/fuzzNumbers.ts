import { meterNumber } from '../../core/quantity/meterNumber.ts';
import type { Fuzzed } from './fuzz.ts';
import { compareSizes, type ExactNumber, exactNumber, sameValue } from './numberOracle.ts';
import type { SeededRandom } from './seededRandom.ts';

/** SCPI-1999 volume 1, 7.2.1.4 and 7.2.1.5. */
const INFINITY: ExactNumber = { digits: 99n, power: 36, isStrict: true, exponentDigits: '37' };
const NOT_A_NUMBER: ExactNumber = { digits: 991n, power: 35, isStrict: true, exponentDigits: '37' };
/** More decimals than that no text of the program has (core/quantity/decimal.ts). */
const MOST_DECIMALS = 60;

/**
 * Numbers, numbers made wrong, and random bytes, each read by the product and by the oracle.
 * @param read what is tried out; tests give a careless one to see the faults found
 */
export function fuzzNumbers(random: SeededRandom, count: number, read: typeof meterNumber = meterNumber): Fuzzed {
  const fuzzed: Fuzzed = { tried: 0, accepted: 0, faults: [] };
  for (; fuzzed.tried < count; fuzzed.tried++) {
    const text = numberLikeText(random);
    try {
      const found = read(text);
      if (found) fuzzed.accepted++;
      const fault = faultOf(text, found);
      if (fault) fuzzed.faults.push(`${JSON.stringify(text)}: ${fault}`);
    } catch (thrown) {
      fuzzed.faults.push(`${JSON.stringify(text)}: threw ${thrown}`);
    }
  }
  return fuzzed;
}

function faultOf(text: string, found: ReturnType<typeof meterNumber>): string | null {
  const exact = exactNumber(text);
  if (found === null) {
    const isTold = exact?.isStrict && exact.exponentDigits.length <= 2 && -exact.power <= MOST_DECIMALS;
    return isTold && compareSizes(exact, INFINITY) <= 0 ? 'refused, and is a number' : null;
  }
  if (!exact) return `read as ${JSON.stringify(found)}, and is no number`;
  if (found.kind === 'overload') return compareSizes(exact, INFINITY) === 0 ? null : 'is not infinity';
  if (found.kind === 'not-a-number') return sameValue(exact, NOT_A_NUMBER) ? null : 'is not the sign for not-a-number';
  if (compareSizes(exact, INFINITY) >= 0) return `read as the value ${found.text}, and is infinity or more`;
  const said = /^-?\d+(\.\d+)?$/.test(found.text) ? exactNumber(found.text) : null;
  if (!said) return `read as "${found.text}", which is no plain decimal`;
  if (!sameValue(exact, said)) return `read as ${found.text}, which is another value`;
  // The engine's own conversion is exact to the nearest double, so both texts must give the very same.
  return Object.is(Number(found.text) + 0, Number(text) + 0) ? null : `${found.text} is another double`;
}

/** A text as a meter, a bad line or a hostile device could send it. */
function numberLikeText(random: SeededRandom): string {
  if (random.chance(0.1)) return bytes(random);
  let text = number(random);
  for (let changes = random.pick([0, 1, 1, 1, 2, 3]); changes > 0; changes--) text = changed(text, random);
  return text;
}

function bytes(random: SeededRandom): string {
  const [least, most] = random.pick([
    [0, 255],
    [32, 126],
    [43, 57],
  ]);
  const characters = Array.from({ length: random.whole(0, 24) }, () => random.whole(least, most));
  return String.fromCharCode(...characters);
}

function number(random: SeededRandom): string {
  const digits = (most: number) => Array.from({ length: random.whole(0, most) }, () => random.whole(0, 9)).join('');
  if (random.chance(0.03)) return random.pick(['9.9E37', '+9.90000000E+37', '-9.9E+37', '9.91E37', '+9.91000E+37']);
  const sign = random.pick(['', '+', '-']);
  const mantissa = random.pick([
    `${digits(9)}${random.whole(0, 9)}`,
    `${random.whole(0, 9)}.${digits(9)}`,
    `${digits(5)}.${digits(70)}`,
    `.${digits(4)}`,
  ]);
  const size = random.pick([2, 9, 37, 38, 99, 400]);
  const exponent = String(random.whole(0, size)).padStart(random.whole(0, 3), '0');
  return `${sign}${mantissa}${random.pick(['', `E+${exponent}`, `E-${exponent}`, `e${exponent}`])}`;
}

const UNITS = ['OHM', ' OHM', 'KOHM', 'k', 'MOHM', ' \u03a9', 'V', '%', 'ohms'] as const;
const WORDS = [
  'NAN',
  'nan',
  'NaN',
  'INF',
  '-INF',
  'Infinity',
  'OL',
  'OVERRNG',
  '----',
  '0x1F',
  '1_000',
  '#B101',
] as const;
const STRAYS = '+-.eE,;:"\' \t\r\n\0_*/()#xXnN\u00a0\u00b2\u2212\u3000\ufeff'.split('') as [string, ...string[]];

function changed(text: string, random: SeededRandom): string {
  const at = random.whole(0, text.length);
  const put = (piece: string, dropped = 0) => text.slice(0, at) + piece + text.slice(at + dropped);
  const way = random.whole(0, 11);
  if (way === 0) return put(random.pick(STRAYS));
  if (way === 1) return put('', random.whole(1, 3));
  if (way === 2) return text + random.pick(UNITS);
  if (way === 3) return text.replace('.', ',');
  if (way === 4) return text.replace(/\d*$/, '');
  if (way === 5) return `${text}${random.pick([',', ';', ' ', '\n', ''])}${number(random)}`;
  if (way === 6) return random.chance(0.5) ? random.pick(WORDS) : put(random.pick(WORDS));
  // Digits of other scripts: full-width, Arabic-Indic, mathematical bold.
  if (way === 7) {
    const zero = random.pick([0xff10, 0x0660, 0x1d7ce]);
    return text.replace(/\d/, (digit) => String.fromCodePoint(zero + Number(digit)));
  }
  if (way === 8)
    return `${text}E${random.pick(['', '+', '-', '+-'])}${random.pick(['', '0', '5', '999', '1E1', '9'.repeat(30)])}`;
  if (way === 9) return put(String.fromCharCode(random.whole(0, 255)), 1);
  if (way === 10) return `${' '.repeat(random.whole(0, 3))}${text}${' '.repeat(random.whole(0, 3))}`;
  return put(text.slice(at, random.whole(at, text.length)));
}
