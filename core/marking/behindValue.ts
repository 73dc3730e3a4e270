import Big from 'big.js';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { COEFFICIENT_LETTERS, DOUBTFUL_COEFFICIENTS, LOPSIDED_LETTERS, TOLERANCE_LETTERS } from './letters.ts';

/** What stands behind a value. */
export interface BehindValue {
  tolerancePercent: DecimalText | null;
  ppmPerKelvin: DecimalText | null;
  /** Begins with `; `, so that it goes on behind the words of the value; empty where nothing stands there. */
  words: string;
  cautions: readonly string[];
}

/**
 * Source of a regular expression for what {@link readBehindValue} may be given: nothing, one or two letters, per cent. Per cent
 * stands apart from the figures of the value, or 15 % would be taken for 1 Ω of 5 %.
 */
export const BEHIND = String.raw`(?<behind> ?[A-Z]? ?[A-Z]?|(?: | ?(?:±|\+\/?-) ?)\d{1,2}(?:\.\d{1,4})? ?%)`;

/**
 * Reads what stands behind a value: nothing, the letter of a tolerance, that and the letter of a temperature coefficient
 * (IEC 60062:2016; coefficients from memory), or a tolerance in per cent. A letter that lists disagree about gives no
 * coefficient, and a caution.
 * @param text of the form of {@link BEHIND}
 * @returns the reason, in words, where it means nothing
 */
export function readBehindValue(text: string): BehindValue | string {
  if (text.endsWith('%')) return inPercent(text.replace(/[^\d.]/gu, ''));
  const [first, second] = text.replaceAll(' ', '').toUpperCase();
  if (first === undefined) return { tolerancePercent: null, ppmPerKelvin: null, words: '', cautions: [] };

  const tolerancePercent = TOLERANCE_LETTERS[first];
  if (tolerancePercent === undefined) return noTolerance(first);
  const words = `; ${first} ±${tolerancePercent} %`;
  if (second === undefined) return { tolerancePercent, ppmPerKelvin: null, words, cautions: [] };

  const doubtful = DOUBTFUL_COEFFICIENTS[second];
  if (doubtful) {
    const caution = `Lists give ${doubtful.join(' and ')} ppm/K for the letter ${second}: take the temperature coefficient from the data sheet.`;
    return { tolerancePercent, ppmPerKelvin: null, words, cautions: [caution] };
  }
  const ppmPerKelvin = COEFFICIENT_LETTERS[second];
  if (ppmPerKelvin === undefined) {
    return `${second} is no letter of a temperature coefficient (${Object.keys(COEFFICIENT_LETTERS).join(' ')} Z)`;
  }
  return { tolerancePercent, ppmPerKelvin, words: `${words}, ${second} ${ppmPerKelvin} ppm/K`, cautions: [] };
}

function inPercent(figures: string): BehindValue | string {
  const tolerance = new Big(figures);
  if (tolerance.eq(0)) return 'a tolerance of 0 % is none';
  const tolerancePercent = plain(tolerance);
  return { tolerancePercent, ppmPerKelvin: null, words: `; ±${tolerancePercent} %`, cautions: [] };
}

function noTolerance(letter: string): string {
  const lopsided = LOPSIDED_LETTERS[letter];
  return lopsided
    ? `${letter} is a tolerance of capacitors, ${lopsided}`
    : `${letter} is no letter of a tolerance (${Object.keys(TOLERANCE_LETTERS).join(' ')})`;
}
