import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import type { Tolerance } from './window.ts';

const LONGEST_PERCENT = 20;
const NUMBER = String.raw`\d+(?:\.\d+)?|\.\d+`;
const SYMMETRIC = new RegExp(String.raw`^(?:±|\+\/?-)?\s*(${NUMBER})\s*%$`, 'u');
/** The unit stands once, behind both figures. A prefix would leave open whether it belongs to one figure or to both. */
const TWO_SIDED = new RegExp(
  String.raw`^\+\s*(${NUMBER})\s*(%?)[\s,/]*[-−]\s*(${NUMBER})\s*(%|Ω|[Oo]hms?|OHMS?)$`,
  'u',
);
const RANGE = /^(.+?)\s*(?:to|\.\.+|…|–)\s*(.+)$/u;
/** A resistance with a prefix: a letter of it that is not part of the word ohm. */
const SCALED = /\d\s*[LmkKMGT]/u;
const ONE_SIDED = /^(<=|≤|>=|≥)\s*(.+)$/u;

/**
 * Reads a tolerance as an engineer writes it: `1 %`, `±0.5 ohm`, `+5 -10 %`, `+0.2 -0.1 ohm`, or limits:
 * `4.6k to 4.8k`, `>= 1M`, `<= 0.1`. A bare number is refused: per cent and ohms are too easily confused.
 * @throws problem tolerance-unreadable
 */
export function parseTolerance(text: string): Tolerance {
  const written = text.normalize('NFC').trim();
  const unreadable = () => problem('tolerance-unreadable', text);
  const ohms = (part: string): string => {
    try {
      return plain(parseOhms(part));
    } catch {
      throw unreadable();
    }
  };

  const decimal = (digits: string): string => {
    if (digits.length > LONGEST_PERCENT) throw unreadable();
    return plain(new Big(digits));
  };

  const symmetric = SYMMETRIC.exec(written);
  if (symmetric) {
    const percent = decimal(symmetric[1] ?? '');
    return { kind: 'percent', plus: percent, minus: percent };
  }

  const twoSided = TWO_SIDED.exec(written);
  if (twoSided) {
    const [, plus = '', plusPercent = '', minus = '', unit = ''] = twoSided;
    if (unit === '%') return { kind: 'percent', plus: decimal(plus), minus: decimal(minus) };
    if (plusPercent !== '') throw unreadable();
    return { kind: 'ohms', plus: ohms(plus), minus: ohms(minus) };
  }

  const oneSided = ONE_SIDED.exec(written);
  if (oneSided) {
    const limit = ohms(oneSided[2] ?? '');
    return /^[<≤]/u.test(oneSided[1] ?? '')
      ? { kind: 'limits', lower: null, upper: limit }
      : { kind: 'limits', lower: limit, upper: null };
  }

  const range = RANGE.exec(written);
  if (range) {
    const [, lower = '', upper = ''] = range;
    // "4.6 to 4.8k" may be meant as 4.6k or as 4.6 Ω, and the wider window would let everything pass.
    if (/^[\d.]+$/.test(lower) && Number(lower) !== 0 && SCALED.test(upper)) throw unreadable();
    return { kind: 'limits', lower: ohms(lower), upper: ohms(upper) };
  }

  const around = written.replace(/^(?:±|\+\/?-)\s*/u, '');
  // Only with a unit or prefix: "5" alone could be 5 % or 5 Ω.
  if (/[a-zΩ]/iu.test(around) && !/^\d+(?:\.\d+)?[eE]/.test(around)) {
    const value = ohms(around);
    return { kind: 'ohms', plus: value, minus: value };
  }
  throw unreadable();
}

/** The tolerance in words, as it stands on screens and certificates. */
export function formatTolerance(tolerance: Tolerance): string {
  if (tolerance.kind === 'limits') {
    if (tolerance.lower === null) return `<= ${tolerance.upper} Ω`;
    if (tolerance.upper === null) return `>= ${tolerance.lower} Ω`;
    return `${tolerance.lower} Ω to ${tolerance.upper} Ω`;
  }
  const unit = tolerance.kind === 'percent' ? '%' : 'Ω';
  return tolerance.plus === tolerance.minus
    ? `±${tolerance.plus} ${unit}`
    : `+${tolerance.plus} -${tolerance.minus} ${unit}`;
}
