import { formatOhms } from '../quantity/formatOhms.ts';
import { BEHIND, type BehindValue, readBehindValue } from './behindValue.ts';
import { POINT_LETTERS } from './letters.ts';
import type { Marked } from './marking.ts';
import { timesPower } from './timesPower.ts';

/** Figures, a letter in place of the decimal point, figures, and what stands behind. */
const LETTER_CODE = new RegExp(String.raw`^(?<whole>\d*)(?<point>[LRKMGT])(?<fraction>\d*)${BEHIND}$`, 'iu');
const MOST_FIGURES = 6;

/** Powers of ten with their letters, as they are said. A small m may also be milli, as in numbers with a prefix. */
const TIMES: Readonly<Record<string, string>> = {
  L: ', ×0.001',
  m: ', milli, ×0.001',
  R: '',
  K: ', ×1000',
  M: ', mega, ×1 000 000',
  G: ', ×10⁹',
  T: ', ×10¹²',
};

/**
 * Reads a letter-and-digit code (IEC 60062): `4K7`, `R47`, `0R22`, `47K`, `L47`; with a tolerance, `4K7J`, and a temperature
 * coefficient, `4K7FS`. Small letters are taken too, since people type them; a small m has two meanings, milli and mega.
 * `0R` and the like are zero-ohm links.
 * @returns no meanings where it is no such code; the reason in words where it is one with something wrong
 */
export function readLetterCode(text: string): readonly Marked[] | string {
  const { whole = '', point: typed = '', fraction = '', behind: suffix = '' } = LETTER_CODE.exec(text)?.groups ?? {};
  if (whole + fraction === '') return [];
  if (whole.length + fraction.length > MOST_FIGURES) return `it has more than ${MOST_FIGURES} figures`;
  if (/^0\d/.test(whole)) return 'a value does not begin with the figure 0 and another';
  const behind = readBehindValue(suffix);
  if (typeof behind === 'string') return behind;

  const figures = whole + fraction;
  if (/^0+$/.test(figures)) return readLink(text, typed, behind);
  const letters = typed === 'm' ? ['m', 'M'] : [typed.toUpperCase()];
  return letters.map((letter) => {
    const { words, ...said } = behind;
    const ohms = timesPower(figures, (POINT_LETTERS[letter] ?? 0) - fraction.length);
    const point = `${letter} for the decimal point${TIMES[letter]}`;
    return { ohms, ...said, scheme: 'letter-code', words: `${point}: ${formatOhms(ohms)}${words}` };
  });
}

function readLink(text: string, typed: string, { words: _, ...said }: BehindValue): readonly Marked[] | string {
  if (typed.toUpperCase() !== 'R' || said.tolerancePercent !== null) {
    return 'a value of 0 takes the letter R and no tolerance';
  }
  return [{ ohms: '0', ...said, scheme: 'jumper', words: `${text.toUpperCase()}: a zero-ohm link` }];
}
