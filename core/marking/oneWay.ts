import { formatOhms } from '../quantity/formatOhms.ts';
import { CHANGED_IN_2016, COLOURS, type Colour } from './colour.ts';
import { isMarked, type Marked, type Unread } from './marking.ts';
import { timesPower } from './timesPower.ts';

/** What the bands of a code are for, by their number (IEC 60062). */
type Place = 'first-figure' | 'figure' | 'multiplier' | 'tolerance' | 'coefficient';

const PLACES: Readonly<Record<number, readonly Place[]>> = {
  3: ['first-figure', 'figure', 'multiplier'],
  4: ['first-figure', 'figure', 'multiplier', 'tolerance'],
  5: ['first-figure', 'figure', 'figure', 'multiplier', 'tolerance'],
  6: ['first-figure', 'figure', 'figure', 'multiplier', 'tolerance', 'coefficient'],
};

/** No band of tolerance means this much (IEC 60062). */
const WITHOUT_BAND_PERCENT = '20';
/** Two figures are for tolerances from this one up, three for those from 2 % down (common practice). */
export const LEAST_PERCENT_OF_TWO_FIGURES = 5;

/** Powers of ten as they stand beside a band, from pink (-3) to white (9). */
const TIMES = ['0.001', '0.01', '0.1', '1', '10', '100', '1 k', '10 k', '100 k', '1 M', '10 M', '100 M', '1 G'];
const LEAST_POWER = -3;

/**
 * Reads bands from the first given to the last: a single black one (a zero-ohm link), or 3 to 6 by the colour code of
 * IEC 60062:2016. 3: two figures and multiplier, ±20 %; 4: tolerance as well; 5: three figures, multiplier, tolerance;
 * 6: temperature coefficient as well. Five with gold or silver in the fourth place may be four and one more: a caution says so.
 */
export function readOneWay(colours: readonly Colour[]): Marked | Unread {
  if (colours.length === 1) return readLink(colours[0] as Colour);
  const places = PLACES[colours.length];
  if (!places) return { refused: `${sayCount(colours.length)} say nothing: a code has 3 to 6.`, band: null };

  const other = ofFourAndOneMore(colours);
  for (const [at, place] of places.entries()) {
    const colour = colours[at] as Colour;
    const why = whyNot(colour, place);
    if (why) return { refused: [`Band ${at + 1} is ${colour}: ${why}.`, ...other].join(' '), band: at + 1 };
  }
  const read = valued(colours, places.indexOf('multiplier'));
  return { ...read, cautions: [...read.cautions, ...other] };
}

/**
 * How many bands at least must follow these until they can be a code, read from either end: 0 where they are as many as a code has
 * and each fits its place; null where no code goes on like this.
 */
export function bandsToCome(colours: readonly Colour[]): number | null {
  for (const [count, places] of Object.entries(PLACES)) {
    const fits = (along: readonly Place[]) =>
      colours.every((colour, at) => along[at] !== undefined && whyNot(colour, along[at]) === null);
    if (fits(places) || fits(places.toReversed())) return Number(count) - colours.length;
  }
  return null;
}

/**
 * What five bands say besides, where the fourth is gold or silver: some parts have four bands and one more behind them, for the
 * temperature coefficient, the failure rate or the make (a distributor's note on such parts; older practice, from memory).
 */
function ofFourAndOneMore(colours: readonly Colour[]): readonly string[] {
  const [, , , fourth, fifth] = colours;
  if (colours.length !== 5 || !(fourth === 'gold' || fourth === 'silver')) return [];
  const four = readOneWay(colours.slice(0, 4));
  if (!isMarked(four)) return [];
  const { ohms, tolerancePercent } = four;
  return [
    `Some parts have four bands and one more behind them, which is no part of the value: without ${fifth} these are ${formatOhms(ohms)} ±${tolerancePercent} %.`,
  ];
}

function sayCount(count: number): string {
  return count === 0 ? 'No bands' : `${count} bands`;
}

function readLink(colour: Colour): Marked | Unread {
  if (colour !== 'black') {
    return { refused: `Band 1 is ${colour}: a single band is black, for a zero-ohm link.`, band: 1 };
  }
  return {
    ohms: '0',
    tolerancePercent: null,
    ppmPerKelvin: null,
    scheme: 'jumper',
    words: 'a single black band: a zero-ohm link',
    cautions: [],
  };
}

/** Why a colour cannot stand in a place; null where it can. Every colour is a multiplier. */
function whyNot(colour: Colour, place: Place): string | null {
  const { digit, tolerancePercent, ppmPerKelvin } = COLOURS[colour];
  switch (place) {
    case 'first-figure':
      if (digit === 0) return 'a value does not begin with the figure 0';
      return digit === null ? `a value begins with a figure, and ${colour} is none` : null;
    case 'figure':
      return digit === null ? `a figure stands here, and ${colour} is none` : null;
    case 'multiplier':
      return null;
    case 'tolerance':
      return tolerancePercent === null ? `the tolerance stands here, and ${colour} is none` : null;
    case 'coefficient':
      return ppmPerKelvin === null ? `the temperature coefficient stands here, and ${colour} is none` : null;
  }
}

/** @param figures how many bands are figures; every band fits its place */
function valued(colours: readonly Colour[], figures: number): Marked {
  const digits = colours.slice(0, figures).map((colour) => COLOURS[colour].digit);
  const multiplier = colours[figures] as Colour;
  const tolerance = colours[figures + 1];
  const coefficient = colours[figures + 2];
  const ohms = timesPower(digits.join(''), COLOURS[multiplier].power);
  const tolerancePercent = tolerance ? COLOURS[tolerance].tolerancePercent : WITHOUT_BAND_PERCENT;
  const ppmPerKelvin = coefficient ? COLOURS[coefficient].ppmPerKelvin : null;
  const said = [
    `${colours
      .slice(0, figures)
      .map((colour, at) => `${colour} ${digits[at]}`)
      .join(', ')}, ${multiplier} ×${TIMES[COLOURS[multiplier].power - LEAST_POWER]}: ${formatOhms(ohms)}`,
    tolerance ? `${tolerance} ±${tolerancePercent} %` : `no band of tolerance: ±${tolerancePercent} %`,
  ];
  if (coefficient) said.push(`${coefficient} ${ppmPerKelvin} ppm/K`);
  return {
    ohms,
    tolerancePercent,
    ppmPerKelvin,
    scheme: 'bands',
    words: said.join('; '),
    cautions: tolerance ? cautionsOf(tolerance, figures) : [],
  };
}

function cautionsOf(tolerance: Colour, figures: number): readonly string[] {
  const cautions: string[] = [];
  const changed = CHANGED_IN_2016[tolerance];
  if (changed) cautions.push(changed);
  if (figures === 2 && Number(COLOURS[tolerance].tolerancePercent) < LEAST_PERCENT_OF_TWO_FIGURES) {
    cautions.push('Tolerances of 2 % and tighter commonly have three figures: see that no band was missed.');
  }
  return cautions;
}
