import Big from 'big.js';
import { type DecimalText, plain, shift } from '../quantity/decimal.ts';

export type Series = 'E3' | 'E6' | 'E12' | 'E24' | 'E48' | 'E96' | 'E192';

/** One series of preferred numbers. */
export interface PreferredNumbers {
  /** The whole significands of a decade, rising: two figures up to E24, three from E48. */
  significands: readonly number[];
  figures: 2 | 3;
  /** The tolerance that the series is made for (common practice). */
  tolerancePercent: DecimalText;
}

/** Where the series to two figures depart from the rounded powers of ten (IEC 60063): they are older than the rule. */
const DEPARTURES_2: Readonly<Record<number, number>> = {
  26: 27,
  29: 30,
  32: 33,
  35: 36,
  38: 39,
  42: 43,
  46: 47,
  83: 82,
};
/** The one departure to three figures, in E192 only. */
const DEPARTURES_3: Readonly<Record<number, number>> = { 919: 920 };

/** The k-th of n is ten to the power of k/n, rounded, with the departures. No value lies near the middle of two numbers. */
function preferredNumbers(count: number, figures: 2 | 3, tolerancePercent: DecimalText): PreferredNumbers {
  const departures = figures === 2 ? DEPARTURES_2 : DEPARTURES_3;
  const significands = Array.from({ length: count }, (_, k) => {
    const rounded = Math.round(10 ** (k / count + figures - 1));
    return departures[rounded] ?? rounded;
  });
  return { significands, figures, tolerancePercent };
}

/** IEC 60063:2015, coarsest first. E3 to E12 lie within E24, E48 and E96 within E192; E24 does not lie within E192. */
export const SERIES: Readonly<Record<Series, PreferredNumbers>> = {
  E3: preferredNumbers(3, 2, '40'),
  E6: preferredNumbers(6, 2, '20'),
  E12: preferredNumbers(12, 2, '10'),
  E24: preferredNumbers(24, 2, '5'),
  E48: preferredNumbers(48, 3, '2'),
  E96: preferredNumbers(96, 3, '1'),
  E192: preferredNumbers(192, 3, '0.5'),
};

/** The names of the series, coarsest first. */
export const SERIES_NAMES = Object.keys(SERIES) as readonly Series[];

/** Figures of a number without the zeros behind them, so that 4.7, 470 and 47 000 are one. */
const FIGURES = new Map(
  SERIES_NAMES.map((name) => [name, new Set(SERIES[name].significands.map((s) => String(s).replace(/0+$/, '')))]),
);

/** The series that a value belongs to, coarsest first; none for 0 and below. Exact: 4.701 belongs to none. */
export function seriesOf(ohms: DecimalText): readonly Series[] {
  const value = new Big(ohms);
  if (value.lte(0)) return [];
  const figures = value.c.join('');
  return SERIES_NAMES.filter((name) => FIGURES.get(name)?.has(figures));
}

/** The preferred numbers beside a value. */
export interface Neighbours {
  /** The largest preferred number that is not above the value, ohms. */
  below: DecimalText;
  /** The smallest that is not below it; the same one where the value is a preferred number. */
  above: DecimalText;
  /** The one of the two that is nearer by ratio. */
  nearest: DecimalText;
}

/**
 * The preferred numbers of a series beside a value, in exact decimals, in any decade.
 * @param ohms above 0
 * @returns null for 0 and below, where there are none
 */
export function nearestPreferred(ohms: DecimalText, series: Series): Neighbours | null {
  const value = new Big(ohms);
  if (value.lte(0)) return null;
  const { significands, figures } = SERIES[series];
  const places = value.e - (figures - 1);
  const scaled = shift(value, -places);
  const decade = 10 ** figures;
  const below = shift(new Big(significands.findLast((s) => scaled.gte(s)) ?? decade / 10), places);
  const above = shift(new Big(significands.find((s) => scaled.lte(s)) ?? decade), places);
  const nearest = value.times(value).lte(below.times(above)) ? below : above;
  return { below: plain(below), above: plain(above), nearest: plain(nearest) };
}
