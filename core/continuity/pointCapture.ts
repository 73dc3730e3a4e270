import { HAND_OHMS, STRAY_FARADS } from '../capture/agreement.ts';
import type { CaptureSetting } from '../capture/setting.ts';
import type { DecimalText } from '../quantity/decimal.ts';

/** Tips that touch each other show no more than this above the zero of the leads, in ohms. */
const TIPS_OHMS = 1;
/** Held tips move a contact by hundredths of an ohm; what still moves by a tenth is not pressed on. */
const BAND_OHMS = 0.1;
const DRIFT_OHMS = 0.05;
const FAR_OHMS = 10;
/** Whatever it reads: what comes back within 0.3 s may be the same point, slipped, so one contact is never taken for two points. */
const SAME_OHMS = 1e12;
/** After two taps the tips have to get to their points, and be held there. */
export const SIGN_DWELL_MILLISECONDS = 2500;
/** Who presses a key or the foot switch holds them there already. */
export const KEY_DWELL_MILLISECONDS = 500;
const SILENCE_READINGS = 3;
const SILENCE_MILLISECONDS = 500;

/**
 * How contacts are told apart while a list is gone through hands-free, by the rules of core/capture: contact held for half a second
 * and agreeing is taken; the leads must open for 0.15 s and two readings before the next point; two taps of the tips, or a key, say
 * that what is read is open.
 * @param readingMilliseconds how long one reading takes @param rangeOhms of the range it is read on, where that is known
 */
export function pointCaptureSetting(
  zeroOhms: DecimalText,
  readingMilliseconds: number,
  rangeOhms: number | null,
): CaptureSetting {
  const shortOhms = Math.abs(Number(zeroOhms)) + TIPS_OHMS;
  return {
    settledReadings: 3,
    bandOhms: BAND_OHMS,
    driftOhms: DRIFT_OHMS,
    releaseMilliseconds: 150,
    doubtMilliseconds: 300,
    sameOhms: SAME_OHMS,
    openDwellMilliseconds: SIGN_DWELL_MILLISECONDS,
    shortOhms,
    shortMilliseconds: 500,
    tapsMilliseconds: 1500,
    tapPauseMilliseconds: 400,
    farOhms: FAR_OHMS,
    handOhms: HAND_OHMS,
    nearOhms: { from: 0, to: HAND_OHMS },
    handMilliseconds: 800,
    changeOhms: 3 * BAND_OHMS,
    unsteadyMilliseconds: 5000,
    silenceMilliseconds: Math.max(SILENCE_MILLISECONDS, SILENCE_READINGS * readingMilliseconds),
    readingMilliseconds,
    chargingMilliseconds: 0,
    openingMilliseconds: (rangeOhms ?? 0) * STRAY_FARADS * 1000,
  };
}
