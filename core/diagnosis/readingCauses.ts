import Big from 'big.js';
import { bandsOf } from '../marking/bandsOf.ts';
import type { Colour } from '../marking/colour.ts';
import { isMarked } from '../marking/marking.ts';
import { readOneWay } from '../marking/oneWay.ts';
import { nearestPreferred, SERIES, type Series } from '../marking/preferred.ts';
import { seriesForTolerance } from '../marking/preferredWarning.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Tolerance, Window } from '../window/window.ts';
import { percentText as percent, ohmsText as text } from './causeWords.ts';

/** What an odd reading of one piece may come from. */
export type ReadingCause =
  | 'open'
  | 'short'
  | 'decade slip'
  | 'bands from the other end'
  | 'another preferred value'
  | 'a little out of tolerance'
  | 'fingers on the tips'
  | 'a path beside it'
  | 'lead or contact resistance';

/** One thing that explains a reading. It changes no verdict. */
export interface ReadingExplained {
  cause: ReadingCause;
  /** How well it explains it, 0 to 1; our choice, for the order only. */
  weight: number;
  /** In figures: a whole sentence. */
  evidence: string;
  /** What to do next to find out: a whole sentence. */
  next: string;
  /** The other value that the piece would have, in ohms, where the cause names one, and the series it is preferred in. */
  value?: number;
  series?: Series;
}

/** A reading that does not conform, with what it should be. */
export interface OddReading {
  window: Window;
  tolerance: Tolerance;
  /** Null for the meter's overload. */
  ohms: DecimalText | null;
  /** Expanded uncertainty, ohms; null where it is not known. */
  expandedOhms: DecimalText | null;
  method: '2-wire' | '4-wire';
}

/** Causes whose weights lie so near to each other cannot be told apart. */
export const NEAR = 0.1;

/** Below this share of the nominal value a piece is shorted, and not of another value (our choice). */
const SHORT_SHARE = 1e-3;
/** Tips, contacts and the meter's zero leave up to about as much (common practice). */
const SHORT_OHMS = 0.5;
/** A person from hand to hand, with dry or moist fingers: of the order of a megohm (common practice). */
export const FINGERS_OHMS = [2e5, 1e7] as const;
/** Below it fingers take nothing from a value that any tolerance would show. */
export const FINGERS_FROM_OHMS = 5e4;
/** A piece further off than so many times its tolerance, or than such a share beyond it, was not made to this value (our choice). */
const LITTLE = 3;
const LITTLE_SHARE = 0.1;
/** Added by bad contacts or a lead: rarely more (common practice). */
const MOST_ADDED_OHMS = 20;
const MOST_ADDED_SHARE = 0.5;

/** What explains a reading that does not conform, best first. Empty where nothing known does. */
export function readingCauses(odd: OddReading): ReadingExplained[] {
  if (odd.ohms === null) return [open()];
  const { nominal } = odd.window;
  if (nominal === null || Number(nominal) <= 0) return [];
  // With one limit nothing says how far a piece may be from its value.
  if (odd.window.lower === null || odd.window.upper === null) return [];
  const piece: Piece = {
    ...odd,
    ohms: Number(odd.ohms),
    nominal: Number(nominal),
    share: farthest(odd.window, Number(nominal)) / Number(nominal),
    expanded: Number(odd.expandedOhms ?? 0),
  };
  return [short, decadeSlip, otherEnd, otherValue, littleOut, fingersOrPath, added]
    .flatMap((explain) => explain(piece) ?? [])
    .sort((a, b) => b.weight - a.weight);
}

/** How many of them, from the first, cannot be told apart: 1 where the first stands alone. */
export function notToldApart(causes: readonly { weight: number }[]): number {
  const [best] = causes;
  return best ? causes.filter(({ weight }) => best.weight - weight <= NEAR).length : 0;
}

interface Piece extends Omit<OddReading, 'ohms'> {
  ohms: number;
  nominal: number;
  /** The tolerance as a share of the nominal value. */
  share: number;
  expanded: number;
}

/** How far a piece may be from its value, to the side where it may be further. */
function farthest({ lower, upper }: Window, nominal: number): number {
  return Math.max(nominal - Number(lower), Number(upper) - nominal, 0);
}

function open(): ReadingExplained {
  return {
    cause: 'open',
    weight: 1,
    evidence: 'The meter shows its overload: nothing conducts, or far more than its range.',
    next: 'Hold the tips together. If the overload stays, a lead is broken; if not, take the same piece again, with a clean contact.',
  };
}

function short({ ohms, nominal, expanded }: Piece): ReadingExplained | null {
  const most = Math.max(SHORT_OHMS, SHORT_SHARE * nominal) + expanded;
  if (Math.abs(ohms) > most || nominal < 10 * most) return null;
  return {
    cause: 'short',
    weight: 1,
    evidence: `${text(ohms)} is next to nothing beside ${text(nominal)}.`,
    next: 'See whether the tips touch each other, and whether solder or a lead bridges the piece; then take it again.',
  };
}

function decadeSlip(piece: Piece): ReadingExplained | null {
  const { ohms, nominal } = piece;
  if (ohms <= 0) return null;
  const decades = Math.round(Math.log10(ohms / nominal));
  const value = nominal * 10 ** decades;
  if (decades === 0 || !isWithin(piece, value)) return null;
  const times = 10 ** Math.abs(decades);
  return {
    cause: 'decade slip',
    value,
    weight: 0.95,
    evidence: `${text(ohms)} lies within ±${percent(piece.share)} of ${text(value)}, which is ${text(nominal)} ${decades > 0 ? 'times' : 'divided by'} ${times.toLocaleString('en').replaceAll(',', ' ')}.`,
    next: 'Read the multiplier on the piece and on the reel, and measure two pieces more: a reel of another decade reads so throughout.',
  };
}

/** Bands that mean another value from their other end. */
function otherEnd(piece: Piece): ReadingExplained | null {
  const { tolerance, window } = piece;
  if (tolerance.kind !== 'percent' || tolerance.plus !== tolerance.minus || window.nominal === null) return null;
  for (const figures of [2, 3] as const) {
    const bands = bandsOf({ ohms: window.nominal, tolerancePercent: tolerance.plus, ppmPerKelvin: null }, figures);
    if ('refused' in bands) continue;
    const turned = readOneWay([...bands].reverse());
    if (!isMarked(turned) || turned.ohms === window.nominal) continue;
    const value = Number(turned.ohms);
    const share = Number(turned.tolerancePercent ?? 0) / 100;
    if (!isWithin({ ...piece, share }, value)) continue;
    return {
      cause: 'bands from the other end',
      value,
      weight: 0.9,
      evidence: `${colours(bands)} read from the other end is ${text(value)} ±${turned.tolerancePercent} %, and ${text(piece.ohms)} lies within that.`,
      next: 'See which band stands apart or is wider: it is that of the tolerance, the last.',
    };
  }
  return null;
}

function otherValue(piece: Piece): ReadingExplained | null {
  const { ohms, nominal, share } = piece;
  if (ohms <= 0 || share <= 0) return null;
  const own = seriesForTolerance(new Big((100 * share).toPrecision(6)).toFixed());
  for (const series of [...new Set<Series>(['E12', 'E24', own])]) {
    const value = Number(nearestPreferred(new Big(ohms).toFixed(), series)?.nearest ?? 0);
    if (value === nominal || !isWithin(piece, value) || isDecadeOf(value, nominal)) continue;
    const covered = coveredBy(series, share);
    return {
      cause: 'another preferred value',
      value,
      series,
      weight: 0.85 - 0.55 * covered,
      evidence: `${text(ohms)} lies within ±${percent(share)} of ${text(value)}, a preferred value (${series}). By chance ${percent(covered)} of all readings lie that near to one of them.`,
      next: 'Read the marking of this piece, and measure its neighbours: a mixed reel has more of them.',
    };
  }
  return null;
}

/** Nothing but the piece itself, which was made a little off its value. */
function littleOut({ ohms, nominal, share, expanded }: Piece): ReadingExplained | null {
  const off = Math.abs(ohms - nominal);
  const most = Math.min(LITTLE * share, share + LITTLE_SHARE);
  if (share <= 0 || off > most * nominal + expanded) return null;
  const isNear = off <= share * nominal + expanded;
  return {
    cause: 'a little out of tolerance',
    weight: isNear ? 0.9 : 0.7,
    evidence: `${text(ohms)} is ${percent(off / nominal)} off ${text(nominal)}, where ±${percent(share)} is allowed${isNear ? ', and its uncertainty reaches the window' : ''}.`,
    next: 'Take the piece again, then its neighbours: where many lie to this side the lot is off its value, as its figures say.',
  };
}

/** Something conducts beside the piece: less than its value is read. */
function fingersOrPath({ ohms, nominal, window, expanded }: Piece): ReadingExplained | null {
  if (ohms <= 0 || ohms >= nominal || window.lower === null || ohms - expanded >= Number(window.lower)) return null;
  const beside = (nominal * ohms) / (nominal - ohms);
  const [least, most] = FINGERS_OHMS;
  const implied = `A path of ${text(beside)} beside ${text(nominal)} reads ${text(ohms)}.`;
  if (nominal >= FINGERS_FROM_OHMS && beside >= least && beside <= most) {
    return {
      cause: 'fingers on the tips',
      weight: 0.8,
      evidence: `${implied} A person who touches both tips is about such a path.`,
      next: 'Take the piece again without touching both tips, held in clips or lying down.',
    };
  }
  return {
    cause: 'a path beside it',
    weight: 0.45,
    evidence: implied,
    next: 'If it is still in its circuit, lift one end and take it again; otherwise clean the piece and the fixture.',
  };
}

function added({ ohms, nominal, window, expanded, method }: Piece): ReadingExplained | null {
  const more = ohms - nominal;
  if (window.upper === null || ohms + expanded <= Number(window.upper)) return null;
  if (more > Math.min(MOST_ADDED_OHMS, Math.max(1, MOST_ADDED_SHARE * nominal))) return null;
  return {
    cause: 'lead or contact resistance',
    weight: method === '2-wire' ? 0.75 : 0.35,
    evidence: `${text(more)} more than ${text(nominal)}${method === '2-wire' ? ', in 2-wire, which reads leads and contacts too' : ', although 4-wire leaves leads out'}.`,
    next: 'Press the tips harder or clean them, and do the check of the zero again; for a value as low as this read 4-wire where the meter can.',
  };
}

function isWithin({ ohms, expanded, share }: Piece, value: number): boolean {
  return Math.abs(ohms - value) <= share * value + expanded;
}

function isDecadeOf(value: number, nominal: number): boolean {
  const decades = Math.log10(value / nominal);
  return Math.abs(decades - Math.round(decades)) < 1e-9;
}

/** Share of all values that lie within a tolerance of a number of the series, on a scale of ratios. */
export function coveredBy(series: Series, share: number): number {
  return Math.min(1, SERIES[series].significands.length * Math.log10((1 + share) / (1 - Math.min(share, 0.99))));
}

function colours(bands: readonly Colour[]): string {
  const words = bands.join(' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
