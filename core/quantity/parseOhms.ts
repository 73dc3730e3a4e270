import Big from 'big.js';
import { problem } from '../problem/problem.ts';

/** Powers of ten of the SI prefixes a resistance is written with. `m` is milli and `M` is mega; `K` is common for kilo. */
const PREFIX_POWERS: Record<string, number> = { m: -3, '': 0, k: 3, K: 3, M: 6, G: 9, T: 12 };

/**
 * Powers of ten of the letters that stand in for the decimal point (IEC 60062, letter and digit code):
 * R is the ohm, K, M, G, T its multiples, L (and here m) the milliohm.
 */
const LETTER_POWERS: Record<string, number> = { R: 0, r: 0, L: -3, m: -3, k: 3, K: 3, M: 6, G: 9, T: 12 };

const LETTER_CODE = /^(\d*)([RrLmkKMGT])(\d*)$/;
const UNIT = '(?:[Ωω]|ohms?|OHMS?|Ohms?)';
/** With a prefix or not, with the unit or not; R is the ohm, too. */
const PLAIN_NUMBER = new RegExp(
  String.raw`^(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d{1,2}))?\s*(?:([mkKMGT]?)\s*${UNIT}?|[Rr])$`,
  'u',
);
const UNIT_BEHIND = new RegExp(String.raw`\s*${UNIT}$`, 'u');
const LONGEST = 40;
/** Far outside what any meter reads; keeps windows within the digits that decimal texts may have. */
export const LARGEST_OHMS = '1e15';
const MOST_DECIMALS = 20;

/**
 * Reads a resistance as people and markings write it, into exact ohms: 0 to 1e15, at most 20 decimals.
 * Takes letter codes (`4k7`, `R47`, `0R47`, `3M3`, `470R`, IEC 60062) and numbers with an optional SI prefix and
 * unit (`4.7k`, `220`, `4700 ohm`, `4.7R`, `3.3 MΩ`, `1e3`). Case matters only where it must: `m` milli, `M` mega.
 * @throws problem `resistance-unreadable`
 */
export function parseOhms(text: string): Big {
  const ohms = exactOhms(text);
  if (ohms.gt(LARGEST_OHMS) || !ohms.eq(ohms.round(MOST_DECIMALS))) throw problem('resistance-unreadable', text);
  return ohms;
}

function exactOhms(text: string): Big {
  // Some keyboards and fonts give the ohm sign U+2126; NFC makes it the Greek capital omega.
  const written = text.normalize('NFC').trim();
  if (written.length === 0 || written.length > LONGEST) throw problem('resistance-unreadable', text.slice(0, LONGEST));

  const number = PLAIN_NUMBER.exec(written);
  if (number) {
    const [, digits = '', exponent = '0', prefix = ''] = number;
    return new Big(digits.replace(/\.$/, '')).times(`1e${Number(exponent) + (PREFIX_POWERS[prefix] ?? 0)}`);
  }

  const code = LETTER_CODE.exec(written.replace(UNIT_BEHIND, ''));
  if (code) {
    const [, whole = '', letter = '', fraction = ''] = code;
    if (whole !== '' || fraction !== '') {
      return new Big(`${whole || '0'}.${fraction || '0'}`).times(`1e${LETTER_POWERS[letter] ?? 0}`);
    }
  }
  throw problem('resistance-unreadable', text);
}
