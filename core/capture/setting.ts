import chisquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import * as z from 'zod';
import { OVER_RANGE } from '../accuracy/chooseRange.ts';
import type { Run } from '../inspection/run.ts';
import { toleranceOhms } from '../window/window.ts';
import { HAND_OHMS, STRAY_FARADS } from './agreement.ts';

/** What a person may choose of hands-free capture; what is left out takes the default that suits the run. */
export const captureChoice = z.strictObject({
  /** Readings that must agree. */
  settledReadings: z.int().min(3).max(20).optional(),
  /** For how long the leads must be open before the next piece counts, in milliseconds. */
  releaseMilliseconds: z.int().min(100).max(5000).optional(),
  /** For how long the leads must stay open after somebody said that a piece is open, in milliseconds. */
  openDwellMilliseconds: z.int().min(500).max(10_000).optional(),
  /** Width of the band in which readings must agree, in per cent of the tolerance. */
  bandPercent: z.number().min(0.01).max(50).optional(),
});
export type CaptureChoice = z.output<typeof captureChoice>;

/** How hands-free capture decides. All ohms are as the meter shows them: the zero is not subtracted. */
export interface CaptureSetting {
  /** Readings that must agree, one after the other; 3 or more. */
  settledReadings: number;
  /** They must lie within so many ohms of each other. */
  bandOhms: number;
  /** They must not still run one way by more than so many ohms. */
  driftOhms: number;
  /** Open for so long, and for at least two readings, is a release. */
  releaseMilliseconds: number;
  /** After leads that were open for less than this the piece before may have slipped: */
  doubtMilliseconds: number;
  /** what reads the same within so many ohms does not count then. */
  sameOhms: number;
  /** After somebody said that a piece is open, overload for so long counts. */
  openDwellMilliseconds: number;
  /** Below it the tips may be touching each other; null where the window is too near 0 to tell a piece from the tips. */
  shortOhms: number | null;
  /** What is below `shortOhms` counts when it is steady for so long; what is lifted sooner is a tap. */
  shortMilliseconds: number;
  /** Two taps or more within so long say that a piece is open. */
  tapsMilliseconds: number;
  /** They are over when the leads were open for so long; a tap after that takes the sign back. */
  tapPauseMilliseconds: number;
  /** Above it the meter is on another range, and the band is wider in proportion; null where the window has no limit. */
  farOhms: number | null;
  /** From here on, where it is not near the window, it may be a finger across the tips that is read. */
  handOhms: number;
  nearOhms: { from: number; to: number };
  /** What may be a finger must be steady for so long, and for one reading more. */
  handMilliseconds: number;
  /** After a capture, readings that settle further away than this without a release are trouble. */
  changeOhms: number;
  /** A contact that has not settled for so long is said to be unsteady. */
  unsteadyMilliseconds: number;
  /** Readings further apart than this say nothing of the time between them. */
  silenceMilliseconds: number;
  /** How long one reading takes, as far as it is known. */
  readingMilliseconds: number;
  /** Time constant of the highest value in the window with the capacitance of leads and hands. */
  chargingMilliseconds: number;
  /** How long that capacitance keeps leads that are open from showing it. */
  openingMilliseconds: number;
}

/** What of a run the setting follows from. */
export type RunForCapture = Pick<Run, 'window' | 'meter' | 'scatter' | 'reference' | 'shortedOhms'>;

/** The usual choices, all ours, and why. Readings: three, the fewest that show which way they run. */
const SETTLED_READINGS = 3;
/** Where a finger may be what is read: one more. */
const SETTLED_READINGS_NEAR_HAND = 4;
/** Longer than contacts bounce and probes slip; short enough for two pieces a second. */
const RELEASE_MILLISECONDS = 150;
/** After a slip a high value stays in overload until the leads' charge has gone: so many time constants more. */
const RELEASE_TIME_CONSTANTS = 6;
/** So much longer than the release a tip that slips is seldom off, and a piece that is lifted on purpose seldom is for less. */
const DOUBT_MILLISECONDS = 150;
/**
 * Within the drift, and a fiftieth of the tolerance, it may be the same piece. Of a lot that fills its window no more than one in
 * 20 is so like the one before; only those that come that soon are asked for again.
 */
const SAME_PERCENT = 2;
const OPEN_DWELL_MILLISECONDS = 1000;
/** A tap of the tips is shorter. */
const SHORT_MILLISECONDS = 500;
const TAPS_MILLISECONDS = 1500;
const TAP_PAUSE_MILLISECONDS = 400;
const HAND_MILLISECONDS = 800;
const UNSTEADY_MILLISECONDS = 5000;
/** How many time constants of the highest value are allowed for before a contact is called unsteady. */
const UNSTEADY_TIME_CONSTANTS = 50;
const SILENCE_MILLISECONDS = 500;
const SILENCE_READINGS = 3;
/** Integration and, as long again, the meter's own zero (common practice), at 50 Hz; then question and answer. */
const MILLISECONDS_OF_CYCLE = 40;
const ASKING_MILLISECONDS = 5;
const USUAL_CYCLES = 1;

/** Width of the band in standard deviations: four readings leave it by noise less than once in 100 000 times. */
const BAND_DEVIATIONS = 7;
const DRIFT_DEVIATIONS = 4;
const BAND_DIGITS = 3;
const DRIFT_DIGITS = 2;
/** What the contact of a steady hand moves by, in ohms, and the share of the tolerance it may come to. */
const HAND_CONTACT_OHMS = 0.005;
const HAND_CONTACT_PERCENT = 5;
/** A fiftieth of the tolerance is far below what a verdict can feel, and more than a hand moves a contact. */
const BAND_PERCENT = 2;
/** A change of a twentieth of the tolerance after a capture is another piece, or another contact. */
const CHANGE_PERCENT = 5;
const CHANGE_BANDS = 3;
/** What tips and their contacts may show above the leads' own resistance, in ohms. */
const TIPS_OHMS = 1;
const NOISE_IN_SHORT = 10;
/** So many times as high must a window begin, or a piece could be taken for the tips. */
const WINDOW_ABOVE_SHORT = 5;
/** What is above so many times the window's limit is far outside. */
const FAR_WINDOWS = 2;
/** So many widths of the window beyond it a piece is so bad that waiting costs nothing, and what is read may be a finger's. */
const NEAR_WIDTHS = 1;
/** Noise where no reference was read more than once, as a share of the range. */
const USUAL_NOISE_OF_RANGE = 1e-5;
/** No meter that reads this fast is taken to be quieter than this. */
const LEAST_NOISE_OF_RANGE = 3e-6;
/** The few readings of a reference may scatter less than the meter does: its upper confidence limit counts, to a bound. */
const CONFIDENCE = 0.99;
const MOST_INFLATION = 5;

/**
 * The setting of hands-free capture for a run. The band is a fiftieth of the tolerance, or what the meter's noise and last
 * digit ask for where that is more; where a finger across the tips could pass for the piece, it follows noise and digit alone.
 * The noise is the upper 99 % confidence limit of the standard deviation of the reference's readings (NIST/SEMATECH e-Handbook,
 * 1.3.5.8), at least 3 ppm of the range; 10 ppm of the range where no reference was read more than once.
 * @param choice what a person chose instead
 * @param readingMilliseconds how long one reading takes; else what its integration time lets expect
 */
export function settingFor(
  run: RunForCapture,
  choice: CaptureChoice = {},
  readingMilliseconds: number = usualReadingMilliseconds(run),
): CaptureSetting {
  const { window } = run;
  const limit = limitOf(window);
  const noise = noiseOhms(run, limit);
  const charging = limit * STRAY_FARADS * 1000;
  const digit = Number(run.reference?.resolutionOhms ?? 0);
  const isTwoSided = window.lower !== null && window.upper !== null;
  const tolerance = Number(toleranceOhms(window));
  const nearHand = limit >= HAND_OHMS;
  const contact = Math.min(HAND_CONTACT_OHMS, shareOf(tolerance, HAND_CONTACT_PERCENT));
  const driftOhms = Math.max(DRIFT_DEVIATIONS * noise, DRIFT_DIGITS * digit, contact);
  const least = Math.max(BAND_DEVIATIONS * noise, BAND_DIGITS * digit, 2 * contact);
  const usual = isTwoSided && !nearHand ? Math.max(least, shareOf(tolerance, BAND_PERCENT)) : least;
  const { bandPercent } = choice;
  const releaseMilliseconds =
    choice.releaseMilliseconds ?? Math.round(RELEASE_MILLISECONDS + RELEASE_TIME_CONSTANTS * charging);
  const bandOhms = bandPercent === undefined ? usual : Math.max(shareOf(tolerance, bandPercent), DRIFT_DIGITS * digit);
  return {
    settledReadings: choice.settledReadings ?? (nearHand ? SETTLED_READINGS_NEAR_HAND : SETTLED_READINGS),
    bandOhms,
    driftOhms,
    releaseMilliseconds,
    doubtMilliseconds: releaseMilliseconds + DOUBT_MILLISECONDS,
    sameOhms: Math.min(driftOhms, shareOf(tolerance, SAME_PERCENT)),
    openDwellMilliseconds: choice.openDwellMilliseconds ?? OPEN_DWELL_MILLISECONDS,
    shortOhms: shortOhms(run, noise, digit),
    shortMilliseconds: SHORT_MILLISECONDS,
    tapsMilliseconds: TAPS_MILLISECONDS,
    tapPauseMilliseconds: TAP_PAUSE_MILLISECONDS,
    farOhms: farOhms(run, limit),
    handOhms: HAND_OHMS,
    nearOhms: nearOhms(window, limit, tolerance),
    handMilliseconds: HAND_MILLISECONDS,
    changeOhms: Math.max(CHANGE_BANDS * bandOhms, isTwoSided ? shareOf(tolerance, CHANGE_PERCENT) : 0),
    unsteadyMilliseconds: Math.round(UNSTEADY_MILLISECONDS + UNSTEADY_TIME_CONSTANTS * charging),
    silenceMilliseconds: Math.max(SILENCE_MILLISECONDS, SILENCE_READINGS * readingMilliseconds),
    readingMilliseconds,
    chargingMilliseconds: charging,
    openingMilliseconds: rangeOhms(run, limit) * Number(OVER_RANGE) * STRAY_FARADS * 1000,
  };
}

function usualReadingMilliseconds({ meter }: RunForCapture): number {
  // Of a meter that cannot be told they may not be known.
  const cycles = Number(meter?.setting.integrationCycles ?? 0) || USUAL_CYCLES;
  return cycles * MILLISECONDS_OF_CYCLE + ASKING_MILLISECONDS;
}

function nearOhms({ lower, upper }: Run['window'], limit: number, tolerance: number): CaptureSetting['nearOhms'] {
  if (lower === null || upper === null) return { from: Number(lower ?? 0) / FAR_WINDOWS, to: limit * FAR_WINDOWS };
  const beyond = NEAR_WIDTHS * 2 * tolerance;
  return { from: Number(lower) - beyond, to: Number(upper) + beyond };
}

function limitOf({ lower, upper }: Run['window']): number {
  return Math.abs(Number(upper ?? lower ?? 0));
}

function shareOf(ohms: number, percent: number): number {
  return (ohms * percent) / 100;
}

/** The fixed range; of a meter that chooses itself the decade that holds the window. */
function rangeOhms({ meter }: RunForCapture, limit: number): number {
  const fixed = meter?.setting.range === 'fixed' ? meter.setting.rangeOhms : null;
  return fixed === null ? 10 ** Math.max(2, Math.ceil(Math.log10(limit || 1))) : Number(fixed);
}

function noiseOhms(run: RunForCapture, limit: number): number {
  const { squares, degreesOfFreedom, atOhms } = run.scatter;
  if (degreesOfFreedom === 0) return USUAL_NOISE_OF_RANGE * rangeOhms(run, limit);
  const inflation = Math.sqrt(degreesOfFreedom / chisquareQuantile(1 - CONFIDENCE, degreesOfFreedom));
  const deviation = Math.sqrt(squares / degreesOfFreedom) * Math.min(MOST_INFLATION, inflation);
  // As in the budget of a reading: in the proportion of the values where the reference is the smaller one.
  const proportion = Math.max(1, limit / (Math.abs(Number(atOhms)) || limit || 1));
  return Math.max(deviation * proportion, LEAST_NOISE_OF_RANGE * rangeOhms(run, limit));
}

function shortOhms({ window, shortedOhms }: RunForCapture, noise: number, digit: number): number | null {
  const short = Math.abs(Number(shortedOhms ?? 0)) + TIPS_OHMS + NOISE_IN_SHORT * noise + BAND_DIGITS * digit;
  return Number(window.lower ?? 0) > WINDOW_ABOVE_SHORT * short ? short : null;
}

/** On a fixed range everything that reads is on that range, with its noise; else twice the window is another range. */
function farOhms(run: RunForCapture, limit: number): number | null {
  const { meter } = run;
  if (meter?.setting.range === 'fixed') return rangeOhms(run, limit) * Number(OVER_RANGE);
  return limit === 0 ? null : FAR_WINDOWS * limit;
}
