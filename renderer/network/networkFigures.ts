import Big from 'big.js';
import type { Expected } from '../../core/network/expected.ts';
import type { MeasuredOhms } from '../../core/network/explanations.ts';
import { type DecimalText, plain } from '../../core/quantity/decimal.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { significant } from '../../core/quantity/significant.ts';
import type { Verdict } from '../../core/window/judge.ts';
import type { Window } from '../../core/window/window.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';

/** Digits of a value that stands by itself. */
const DIGITS = 5;
/** A limit is given to this share of its window: further digits say nothing. */
const SHARE_OF_WINDOW = 1e-3;
/** The same of a limit that pieces are judged by. */
export const SHARE_OF_LIMIT = 1e-6;
/** Values so many times apart have each their own unit. */
const FAR = 100;
/** Digits of a double that are its own. */
const SURE_DIGITS = 12;
/** Values nearer to each other than this share of them are apart by rounding only. */
const SAME = 1e-10;

/** Ohms as they stand in tables, like `4.7 kΩ`; infinity is an open circuit. */
export function ohmsOrOpen(ohms: number): string {
  return ohms === Number.POSITIVE_INFINITY ? 'open' : ohmsFigure(ohms, { significant: DIGITS });
}

/** What a tolerance makes of the whole, to three digits; what is but rounding beside the whole is nothing. */
export function spreadFigure(ohms: number, whole: number): string {
  return ohmsFigure(ohms <= SAME * whole ? 0 : ohms, { significant: 3 });
}

/** An expanded uncertainty; of a good part of an ohm in ohms, as it is typed. */
export function uncertaintyFigure(ohms: number): string {
  return ohmsFigure(ohms, { significant: DIGITS, ...(ohms >= 0.01 && ohms < 1 && { like: 1 }) });
}

/** From a lowest to a highest value in one unit, to as many digits as tell them apart. @param like a value that has that unit */
export function spanText(lowest: number, highest: number, like = highest): string {
  if (!isApart(lowest, highest)) return ohmsOrOpen(lowest);
  return `${limitFigure(lowest, highest - lowest, like)} to ${limitFigure(highest, highest - lowest, like)}`;
}

function isApart(lowest: number, highest: number): boolean {
  if (highest === Number.POSITIVE_INFINITY) return lowest !== highest;
  return highest - lowest > SAME * highest;
}

function limitFigure(ohms: number, width: number, like: number): string {
  if (!Number.isFinite(ohms) || !Number.isFinite(width) || ohms === 0) return ohmsOrOpen(ohms);
  const isNear = Number.isFinite(like) && ohms * FAR > like && ohms < like * FAR;
  return formatOhms(roundedFor(ohms, width), isNear ? { like: new Big(like) } : {}).replace(' ', '\u00a0');
}

/** Rounded to such a share of the width of its window, and to three digits at least. */
function roundedFor(ohms: number, width: number, share = SHARE_OF_WINDOW): Big {
  if (ohms === 0) return new Big(0);
  const exact = new Big(ohms.toPrecision(SURE_DIGITS));
  const place = Math.min(Math.floor(Math.log10(width * share)), exact.e - 2);
  const step = new Big(`1e${place}`);
  return exact.div(step).round().times(step);
}

/** A share in per cent, like `12.3 %`, with its sign where it is asked for. */
export function percentFigure(percent: number, sign = false): string {
  const text = significant(percent, 3, 4).replace('-', '\u2212');
  return `${sign && percent > 0 && text !== '0' ? '+' : ''}${text}\u00a0%`;
}

/**
 * The window of the worst case in decimals; null where tolerances leave none, or nothing joins the terminals.
 * @param share of its width that it is given to
 */
export function worstCaseWindow({ nominal, lowest, highest }: Expected, share = SHARE_OF_WINDOW): Window | null {
  if (!isApart(lowest, highest) || highest === Number.POSITIVE_INFINITY) return null;
  const text = (ohms: number): DecimalText => plain(roundedFor(ohms, highest - lowest, share));
  return { nominal: text(nominal), lower: text(lowest), upper: text(highest) };
}

/** How what was measured stands to the worst case; a value on a limit is inside. */
export function standingOf(
  expected: Pick<Expected, 'lowest' | 'highest'>,
  { ohms }: Pick<MeasuredOhms, 'ohms'>,
): Verdict {
  if (ohms === Number.POSITIVE_INFINITY) return expected.highest === ohms ? 'pass' : 'open';
  if (compared(ohms, expected.lowest) < 0) return 'fail-low';
  return compared(ohms, expected.highest) > 0 ? 'fail-high' : 'pass';
}

/** Whether the uncertainty of what was measured reaches over a limit, so that it may lie on either side. */
export function isUnsure(
  expected: Pick<Expected, 'lowest' | 'highest'>,
  { ohms, expandedOhms }: MeasuredOhms,
): boolean {
  if (expandedOhms === 0 || ohms === Number.POSITIVE_INFINITY) return false;
  const [low, high] = [ohms - expandedOhms, ohms + expandedOhms];
  return new Set([low, high].map((end) => standingOf(expected, { ohms: end }))).size > 1;
}

/** What was worked out has its last digits from rounding. */
function compared(a: number, b: number): number {
  return Number(a.toPrecision(SURE_DIGITS)) - Number(b.toPrecision(SURE_DIGITS));
}
