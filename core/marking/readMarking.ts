import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { LARGEST_OHMS } from '../quantity/parseOhms.ts';
import { readDigitCode } from './digitCode.ts';
import { readEia96 } from './eia96.ts';
import { readLetterCode } from './letterCode.ts';
import type { Marked } from './marking.ts';
import { readPlainFigures } from './plainFigures.ts';

const LONGEST = 24;

/**
 * Reads what stands on a part, or is typed for it, in every way that makes sense, the likelier first: as letter-and-digit code
 * (IEC 60062), as chip code of two or three figures and a multiplier, as code of EIA-96, in plain figures. `102` is 1 kΩ or
 * 102 Ω, `10R` is 10 Ω or the EIA-96 code of 1.24 Ω: which of them, only the part, its data sheet or a meter can say.
 * @returns one meaning or more
 * @throws problem `marking-unreadable` with the reason
 */
export function readMarking(text: string): readonly Marked[] {
  // Some keyboards give the ohm sign U+2126; NFC makes it the Greek capital omega.
  const written = text.normalize('NFC').trim().replace(/\s+/gu, ' ');
  if (written === '') throw problem('marking-unreadable', '', 'there is nothing');
  if (written.length > LONGEST) throw problem('marking-unreadable', written.slice(0, LONGEST), 'it is too long');

  const coded = [readLetterCode(written), readEia96(written)];
  const meanings = [
    ...coded.flatMap((read) => (typeof read === 'string' ? [] : read)),
    ...readDigitCode(written),
    ...readPlainFigures(written),
  ];
  const possible = meanings.filter(({ ohms }) => new Big(ohms).lte(LARGEST_OHMS));
  if (possible.length > 0) return withoutRepeats(possible);
  const tooLarge = meanings.length > 0 ? 'no part has so many ohms' : undefined;
  const wrong = coded.find((read) => typeof read === 'string');
  throw problem('marking-unreadable', written, tooLarge ?? wrong ?? 'it has the form of no code');
}

/** Of meanings that say the same the first is kept. */
function withoutRepeats(meanings: readonly Marked[]): readonly Marked[] {
  const same = (one: Marked, other: Marked) =>
    one.ohms === other.ohms &&
    one.tolerancePercent === other.tolerancePercent &&
    one.ppmPerKelvin === other.ppmPerKelvin;
  return meanings.filter((meaning, at) => meanings.findIndex((other) => same(other, meaning)) === at);
}
