import { CONFIRMATIONS_OF_SLOW, SETTLING_CONSTANTS, SLOW_OHMS, STRAY_FARADS } from './agreement.ts';
import type { CaptureSetting } from './setting.ts';

/** How fast pieces can follow each other. */
export interface CapturePace {
  /** For how long each must be held. */
  holdMilliseconds: number;
  /** For how long the leads must be apart between two. */
  apartMilliseconds: number;
  piecesPerSecond: number;
  /** What takes most of the time: the meter's readings, or a value so high that it settles and opens slowly. */
  limitedBy: 'readings' | 'value';
}

/** A contact that bounces is at rest after this (common practice: some milliseconds, by hand more). */
const BOUNCE_MILLISECONDS = 30;
/** So many readings more than those that agree, as contact is seldom made just when one begins. */
const READINGS_MORE = 0.5;
/** The first and the last reading of an opening may have seen contact as well, and readings do not come quite evenly. */
const READINGS_APART = 2.5;

/**
 * The pace at which no piece in the window is missed, at the worst of moments: a contact that bounces, the approach of the
 * highest value, the readings that must agree; then the release, and what of the readings is lost at both its ends.
 */
export function paceOf(setting: CaptureSetting): CapturePace {
  const { readingMilliseconds, chargingMilliseconds } = setting;
  const isSlow = chargingMilliseconds >= SLOW_OHMS * STRAY_FARADS * 1000;
  const settling = chargingMilliseconds * (isSlow ? SETTLING_CONSTANTS.slow : SETTLING_CONSTANTS.usual);
  const opening = setting.releaseMilliseconds + setting.openingMilliseconds;
  const readings = setting.settledReadings + READINGS_MORE + (isSlow ? CONFIRMATIONS_OF_SLOW : 0);
  const holdMilliseconds = BOUNCE_MILLISECONDS + readings * readingMilliseconds + settling;
  const apartMilliseconds = opening + READINGS_APART * readingMilliseconds;
  const total = holdMilliseconds + apartMilliseconds;
  return {
    holdMilliseconds,
    apartMilliseconds,
    piecesPerSecond: 1000 / total,
    limitedBy: settling + opening > total / 2 ? 'value' : 'readings',
  };
}
