import Big from 'big.js';
import type { DecimalText } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { nearestPreferred, SERIES, SERIES_NAMES, type Series, seriesOf } from './preferred.ts';

/** Two figures are made at tight tolerances too (common practice), though E24 does not lie within E96 or E192. */
const MADE_AT_ALL = 'E24';
/** Below it values for measuring currents are common, which follow no series (common practice). */
const CURRENT_SENSING_BELOW_OHMS = 1;

/**
 * The series made for a tolerance (IEC 60063 by common practice: 40 % E3, 20 % E6, 10 % E12, 5 % E24, 2 % E48, 1 % E96,
 * 0.5 % and tighter E192); between two of them the finer.
 */
export function seriesForTolerance(tolerancePercent: DecimalText): Series {
  const tolerance = new Big(tolerancePercent);
  return SERIES_NAMES.find((name) => tolerance.gte(SERIES[name].tolerancePercent)) ?? 'E192';
}

/**
 * Whether a value is a preferred number that a part of this tolerance is commonly made in: of its own series, of a coarser one
 * that lies within it, or of E24 at any tolerance tighter than that.
 */
export function isPreferredAt(ohms: DecimalText, tolerancePercent: DecimalText): boolean {
  const own = seriesForTolerance(tolerancePercent);
  const ofValue = seriesOf(ohms);
  return ofValue.includes(own) || (SERIES[own].figures === 3 && ofValue.includes(MADE_AT_ALL));
}

/**
 * What is odd about a value, in a sentence or two that name the preferred numbers beside it; null where nothing is.
 * A warning only: parts are made to any value. A zero-ohm link has no series; without a tolerance any series will do.
 * @param ohms 0 and up
 */
export function preferredWarning(ohms: DecimalText, tolerancePercent: DecimalText | null): string | null {
  if (new Big(ohms).lte(0)) return null;
  if (tolerancePercent === null) {
    if (seriesOf(ohms).length > 0) return null;
    return `${formatOhms(ohms)} is no preferred number of any series, E3 to E192. ${besides(ohms, 'E192')}${rarer(ohms)}`;
  }
  if (isPreferredAt(ohms, tolerancePercent)) return null;
  const own = seriesForTolerance(tolerancePercent);
  const [finer] = seriesOf(ohms);
  const elsewhere = finer
    ? ` It is one of ${finer}, made for ±${SERIES[finer].tolerancePercent} %: see whether the tolerance is right.`
    : '';
  const orTwoFigures = SERIES[own].figures === 3 ? `, nor of ${MADE_AT_ALL}` : '';
  return `${formatOhms(ohms)} is no preferred number of ${own}, the series for ±${tolerancePercent} %${orTwoFigures}. ${besides(ohms, own)}${elsewhere}${rarer(ohms)}`;
}

function besides(ohms: DecimalText, series: Series): string {
  const beside = nearestPreferred(ohms, series);
  return beside ? `Beside it in ${series} lie ${formatOhms(beside.below)} and ${formatOhms(beside.above)}.` : '';
}

function rarer(ohms: DecimalText): string {
  return new Big(ohms).lt(CURRENT_SENSING_BELOW_OHMS) ? ' Parts for measuring currents often follow no series.' : '';
}
