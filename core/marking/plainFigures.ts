import { formatOhms } from '../quantity/formatOhms.ts';
import { BEHIND, readBehindValue } from './behindValue.ts';
import { EIA_96_POWERS } from './eia96.ts';
import { POINT_LETTERS } from './letters.ts';
import type { Marked } from './marking.ts';
import { timesPower } from './timesPower.ts';

/** A number as it is spoken, perhaps a prefix, perhaps the unit, perhaps a tolerance. */
const PLAIN = new RegExp(
  String.raw`^(?<whole>\d{0,9})(?:\.(?<decimals>\d{1,9}))? ?(?<prefix>[mkGT]?) ?(?<unit>Ω|ohms?|R)?${BEHIND}$`,
  'iu',
);
/** Two figures and a letter are a code of EIA-96 where they can be one. */
const CODE_OF_EIA_96 = new RegExp(`^\\d\\d[${Object.keys(EIA_96_POWERS).join('')}]$`, 'i');

/**
 * Reads a value in plain figures: `100`, `4.7k`, `220 Ω 5 %`, `0.47 J`. A small m without the unit may be milli, as
 * everywhere else, or a mega that was typed small: both are given.
 * @returns no meanings where it is none, or where the figures are those of a code only (`010`)
 */
export function readPlainFigures(text: string): readonly Marked[] {
  const groups = PLAIN.exec(text)?.groups;
  if (!groups || CODE_OF_EIA_96.test(text)) return [];
  const { whole = '', decimals = '', prefix = '', unit } = groups;
  if (/^0\d/.test(whole) || Number(`0${whole}${decimals}`) === 0) return [];
  const behind = readBehindValue(groups.behind ?? '');
  if (typeof behind === 'string') return [];

  const { words, ...said } = behind;
  return prefixes(prefix, unit !== undefined).map((letter) => {
    const ohms = timesPower(whole + decimals, (POINT_LETTERS[letter] ?? 0) - decimals.length);
    const milli = letter === 'm' ? ', m for milli' : '';
    const mega = prefix === 'm' && letter === 'M' ? ', m for mega' : '';
    return {
      ohms,
      ...said,
      scheme: 'plain',
      words: `in plain figures${milli}${mega}: ${formatOhms(ohms)}${words}`,
    };
  });
}

/** The prefixes that are meant, as keys of the powers of ten; R stands for none. */
function prefixes(typed: string, withUnit: boolean): readonly string[] {
  if (typed === '') return ['R'];
  if (typed !== 'm') return [typed.toUpperCase()];
  return withUnit ? ['m'] : ['m', 'M'];
}
