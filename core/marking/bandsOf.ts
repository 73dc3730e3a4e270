import Big from 'big.js';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { COLOUR_NAMES, COLOURS, type Colour } from './colour.ts';
import type { Marked, Unread } from './marking.ts';
import { LEAST_PERCENT_OF_TWO_FIGURES } from './oneWay.ts';

/** What bands can say. */
export type Banded = Pick<Marked, 'ohms' | 'tolerancePercent' | 'ppmPerKelvin'>;

const WITHOUT_BAND_PERCENT = 20;

/**
 * The bands a part carries by the colour code of IEC 60062:2016, first to last: the other way round of `readOneWay`.
 * 20 % has no band of tolerance. A temperature coefficient takes three figures and a tolerance of its own. 0 Ω without a
 * tolerance is the single black band of a link.
 * @param figures two or three; without it two from 5 % up where the value has no more, else three
 * @returns refused, with the reason, where the code has no bands for it
 */
export function bandsOf(banded: Banded, figures?: 2 | 3): readonly Colour[] | Unread {
  const value = new Big(banded.ohms);
  if (value.lt(0)) return none('a value below 0 Ω has no bands');
  if (value.eq(0)) {
    return banded.tolerancePercent === null && banded.ppmPerKelvin === null
      ? ['black']
      : none('0 Ω has a single black band, without a tolerance');
  }
  const count = figures ?? figuresFor(banded, value);
  const digits = value.c.join('').padEnd(count, '0');
  if (digits.length > count) return none(`${formatOhms(value)} has more than ${count} figures`);
  const multiplier = COLOUR_NAMES.find((name) => COLOURS[name].power === value.e - (count - 1));
  if (!multiplier) return none(`no colour multiplies ${count} figures to ${formatOhms(value)}`);
  const rest = restOf(banded, count);
  if (!Array.isArray(rest)) return rest as Unread;
  return [...[...digits].map((digit) => COLOUR_NAMES[Number(digit)] as Colour), multiplier, ...rest];
}

function figuresFor({ tolerancePercent, ppmPerKelvin }: Banded, value: Big): 2 | 3 {
  const wide = tolerancePercent !== null && Number(tolerancePercent) >= LEAST_PERCENT_OF_TWO_FIGURES;
  return wide && ppmPerKelvin === null && value.c.length <= 2 ? 2 : 3;
}

/** The bands behind the multiplier. */
function restOf({ tolerancePercent, ppmPerKelvin }: Banded, figures: number): Colour[] | Unread {
  if (tolerancePercent === null) return none('bands say a tolerance, and there is none here');
  if (ppmPerKelvin !== null && figures === 2) return none('a band of temperature coefficient takes three figures');
  if (Number(tolerancePercent) === WITHOUT_BAND_PERCENT) {
    return figures === 2 ? [] : none('±20 % has no band, and takes two figures');
  }
  const tolerance = bandFor('tolerancePercent', tolerancePercent);
  if (!tolerance) return none(`no colour stands for ±${tolerancePercent} %`);
  if (ppmPerKelvin === null) return [tolerance];
  const coefficient = bandFor('ppmPerKelvin', ppmPerKelvin);
  return coefficient ? [tolerance, coefficient] : none(`no colour stands for ${ppmPerKelvin} ppm/K`);
}

function bandFor(what: 'tolerancePercent' | 'ppmPerKelvin', wanted: DecimalText): Colour | undefined {
  const shortest = plain(new Big(wanted));
  return COLOUR_NAMES.find((name) => COLOURS[name][what] === shortest);
}

function none(why: string): Unread {
  return { refused: `${why.charAt(0).toUpperCase()}${why.slice(1)}.`, band: null };
}
