import chisquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import Big from 'big.js';
import * as z from 'zod';
import { OVER_RANGE } from '../accuracy/chooseRange.ts';
import type { Run } from '../inspection/run.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
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
const OPEN_DWELL_MILLISECONDS = 1000;
/** A tap of the tips is shorter. */
const SHORT_MILLISECONDS = 500;
const TAPS_MILLISECONDS = 1500;
const TAP_PAUSE_MILLISECONDS = 400;
const HAND_MILLISECONDS = 800;
const UNSTEADY_MILLISECONDS = 5000;
/** How many time constants of the highest value are allowed for before a contact is called unsteady. */
const UNSTEADY_TIME_CONSTANTS = 30;
const SILENCE_MILLISECONDS = 500;
const SILENCE_READINGS = 3;
const USUAL_READING_MILLISECONDS = 50;

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
 * @param readingMilliseconds how long one reading takes, as far as it is known
 */
export function settingFor(
  run: RunForCapture,
  choice: CaptureChoice = {},
  readingMilliseconds: number = USUAL_READING_MILLISECONDS,
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
  const bandOhms = bandPercent === undefined ? usual : Math.max(shareOf(tolerance, bandPercent), DRIFT_DIGITS * digit);
  return {
    settledReadings: choice.settledReadings ?? (nearHand ? SETTLED_READINGS_NEAR_HAND : SETTLED_READINGS),
    bandOhms,
    driftOhms,
    releaseMilliseconds:
      choice.releaseMilliseconds ?? Math.round(RELEASE_MILLISECONDS + RELEASE_TIME_CONSTANTS * charging),
    openDwellMilliseconds: choice.openDwellMilliseconds ?? OPEN_DWELL_MILLISECONDS,
    shortOhms: shortOhms(run, noise, digit),
    shortMilliseconds: SHORT_MILLISECONDS,
    tapsMilliseconds: TAPS_MILLISECONDS,
    tapPauseMilliseconds: TAP_PAUSE_MILLISECONDS,
    farOhms: farOhms(run, limit),
    handOhms: HAND_OHMS,
    nearOhms: { from: Number(window.lower ?? 0) / FAR_WINDOWS, to: limit * FAR_WINDOWS },
    handMilliseconds: HAND_MILLISECONDS,
    changeOhms: Math.max(CHANGE_BANDS * bandOhms, isTwoSided ? shareOf(tolerance, CHANGE_PERCENT) : 0),
    unsteadyMilliseconds: Math.round(UNSTEADY_MILLISECONDS + UNSTEADY_TIME_CONSTANTS * charging),
    silenceMilliseconds: Math.max(SILENCE_MILLISECONDS, SILENCE_READINGS * readingMilliseconds),
  };
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

/** Digits of a figure in words. */
const DIGITS = 2;

/** Every parameter of the setting in words, a sentence or two each, for the person at the probes. */
export function captureWords(setting: CaptureSetting): string[] {
  const { settledReadings, bandOhms, driftOhms, changeOhms } = setting;
  return [
    `A piece counts when ${settledReadings} readings in a row lie within ${ohms(bandOhms)} of each other and no longer run one way by more than ${ohms(driftOhms)}. They must also span a quarter of the time since contact, up to 2 s, and 3 µs for each kiloohm, because high values settle slowly.`,
    `The next piece counts after the leads were open for ${seconds(setting.releaseMilliseconds)} and at least two readings. An opening that is shorter is a slip, and the piece on the probes does not count again. What reads ten times as much as the piece, from ${ohms(HAND_OHMS)} up, is as good as open. A piece that is put on the probes again after that counts as the next one.`,
    'At the beginning nothing counts before the leads were seen open once: a piece that lies on the probes already may have counted before. Lift it and put it on again.',
    shortWords(setting),
    openWords(setting),
    farWords(setting),
    `Readings that settle more than ${ohms(changeOhms)} away after a piece was captured, without the leads open in between, are trouble and never count.`,
    `A contact that does not settle within ${seconds(setting.unsteadyMilliseconds)} is called unsteady; it still counts as soon as it settles. A finger across the tips never settles.`,
    `Readings more than ${seconds(setting.silenceMilliseconds)} apart say nothing of the time between: the count of steady readings, and the time of an opening, begin anew.`,
  ];
}

function shortWords({ shortOhms, shortMilliseconds }: CaptureSetting): string {
  if (shortOhms === null) {
    return 'The window is so near to zero that tips which touch each other look like a piece: keep them apart between pieces.';
  }
  return `Below ${ohms(shortOhms)} the tips may be touching each other: a shorted piece counts when it is held for ${seconds(shortMilliseconds)}.`;
}

function openWords({
  shortOhms,
  tapsMilliseconds,
  tapPauseMilliseconds,
  openDwellMilliseconds,
}: CaptureSetting): string {
  const sign =
    shortOhms === null
      ? 'by its key or the foot switch'
      : `by its key or the foot switch, or by tapping the tips together twice within ${seconds(tapsMilliseconds)}, each for a tenth of a second or more`;
  const back =
    shortOhms === null
      ? ''
      : ` The taps are over when the tips were apart for ${seconds(tapPauseMilliseconds)}; one tap more after that takes the sign back.`;
  return `Leads that are open and a piece that is open look the same. Say that a piece is open ${sign}: overload for ${seconds(openDwellMilliseconds)} then counts as that piece. If something conducts before, it counts as it reads.${back}`;
}

function farWords({ farOhms, handOhms, handMilliseconds, settledReadings }: CaptureSetting): string {
  const wider = farOhms === null ? '' : ` Above ${ohms(farOhms)} the band is wider in proportion.`;
  return `From ${ohms(handOhms)} up it may be a finger across the tips: ${settledReadings + 1} readings over ${seconds(handMilliseconds)} must agree.${wider}`;
}

function ohms(value: number): string {
  return formatOhms(new Big(value.toPrecision(DIGITS)));
}

function seconds(milliseconds: number): string {
  return `${Number((milliseconds / 1000).toPrecision(DIGITS))} s`;
}
