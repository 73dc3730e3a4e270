import { formatOhms } from '../quantity/formatOhms.ts';
import { readBehindValue } from './behindValue.ts';
import type { Marked } from './marking.ts';
import { timesPower } from './timesPower.ts';

/**
 * Letters of tolerance that a digit code may carry here. Not in the standard, but common in the trade (`102J`). K, L and M are
 * left out: behind figures they are kilo, milli and mega of the letter-and-digit code, which is in the standard.
 */
const DIGIT_CODE = /^(\d{2,3})(\d) ?([EPWBCDFGHJN]?)$/i;

/** Figures of 0 and no others. */
const LINKS = ['0', '000', '0000'];

/** In lists for capacitors the last figures 8 and 9 divide (EIA-198, from memory), and some resistors follow them. */
const DIVIDING: Readonly<Record<string, number>> = { 8: -2, 9: -1 };

/**
 * Reads a chip code of figures alone: two or three figures and the number of zeros behind them: `472` is 4.7 kΩ, `1000` is
 * 100 Ω (IEC 60062). A last figure of 8 or 9 has a second meaning. `0`, `000` and `0000` are zero-ohm links.
 * @returns no meanings where it is no such code
 */
export function readDigitCode(text: string): readonly Marked[] {
  if (LINKS.includes(text)) return [link(text)];
  const code = DIGIT_CODE.exec(text);
  const [, figures = '0', last = '', letter = ''] = code ?? [];
  if (!code || figures.startsWith('0')) return [];
  const behind = readBehindValue(letter);
  if (typeof behind === 'string') return [];

  const { words, ...said } = behind;
  const scheme = figures.length === 2 ? 'three-digit' : 'four-digit';
  const cautions = letter === '' ? [UNSAID[scheme]] : said.cautions;
  const meaning = (power: number, why: string, more: readonly string[]): Marked => {
    const ohms = timesPower(figures, power);
    const times = `${figures} × ${timesPower('1', power)}${why}: ${formatOhms(ohms)}${words}`;
    return { ohms, ...said, scheme, words: times, cautions: [...cautions, ...more] };
  };
  const meanings = [meaning(Number(last), `, ${last === '1' ? '1 zero' : `${last} zeros`}`, [])];
  const divides = DIVIDING[last];
  if (divides !== undefined) meanings.push(meaning(divides, `, where ${last} divides`, [DIVIDES]));
  return meanings;
}

const UNSAID = {
  'three-digit': 'The code does not say the tolerance; parts marked so are commonly ±5 % or ±2 %.',
  'four-digit': 'The code does not say the tolerance; parts marked so are commonly ±1 %.',
} as const;

const DIVIDES =
  'A last figure that divides is common on capacitors and rare on resistors: look at the data sheet, or measure.';

function link(text: string): Marked {
  return {
    ohms: '0',
    tolerancePercent: null,
    ppmPerKelvin: null,
    scheme: 'jumper',
    words: `${text}: a zero-ohm link`,
    cautions: [],
  };
}
