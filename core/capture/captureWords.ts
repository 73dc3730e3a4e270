import Big from 'big.js';
import { formatOhms } from '../quantity/formatOhms.ts';
import { CONFIRMATIONS_OF_SLOW, HAND_OHMS, SLOW_OHMS } from './agreement.ts';
import { HEARD_MILLISECONDS } from './capture.ts';
import { paceOf } from './pace.ts';
import type { CaptureSetting } from './setting.ts';

/** Digits of a figure in words. */
const DIGITS = 2;
/** As fast as somebody works who has done it for a while; what is slower is explained. */
const USUAL_PIECES_PER_SECOND = 2;

/** Every parameter of the setting in words, a sentence or two each, for the person at the probes. */
export function captureWords(setting: CaptureSetting): string[] {
  const { settledReadings, bandOhms, driftOhms, changeOhms, sameOhms, doubtMilliseconds } = setting;
  return [
    paceWords(setting),
    `A piece counts when ${settledReadings} readings in a row lie within ${ohms(bandOhms)} of each other and the last no longer run away from the first by more than ${ohms(driftOhms)}. They must also span 3 µs for each kiloohm and a quarter of the time since contact; from ${ohms(SLOW_OHMS)} up a third of it, and ${CONFIRMATIONS_OF_SLOW} more must confirm them, because high values settle slowly.`,
    `The next piece counts after the leads were open for ${seconds(setting.releaseMilliseconds)} and at least two readings. An opening that is shorter is a slip, and the piece on the probes does not count again. What reads ten times as much as the piece, from ${ohms(HAND_OHMS)} up, is as good as open.`,
    `What reads within ${ohms(sameOhms)} of the piece before and comes in less than ${seconds(doubtMilliseconds)} may be that piece again: it does not count, and that is said. If it is the next one, lift it for longer and put it on again. What comes later counts as the next piece.`,
    'At the beginning nothing counts before the leads were seen open once: a piece that lies on the probes already may have counted before. Lift it and put it on again.',
    shortWords(setting),
    openWords(setting),
    farWords(setting),
    `Readings that settle more than ${ohms(changeOhms)} away after a piece was captured, without the leads open in between, are trouble and never count; after an opening too brief for a release more than ${ohms(driftOhms)}.`,
    `A contact that does not settle within ${seconds(setting.unsteadyMilliseconds)} is called unsteady; it still counts as soon as it settles. A finger across the tips hardly ever settles, unless it reads about what the pieces do.`,
    `Readings more than ${seconds(setting.silenceMilliseconds)} apart say nothing of the time between: the count of steady readings, and the time of an opening, begin anew.`,
  ];
}

const SLOWED_BY = {
  readings: 'Fewer mains cycles for each reading make it quicker.',
  value: 'So high a value takes that time.',
} as const;

function paceWords(setting: CaptureSetting): string {
  const { holdMilliseconds, apartMilliseconds, piecesPerSecond, limitedBy } = paceOf(setting);
  const why = piecesPerSecond < USUAL_PIECES_PER_SECOND ? ` ${SLOWED_BY[limitedBy]}` : '';
  return `With about ${floored(1000 / setting.readingMilliseconds)} readings a second it keeps up with ${floored(piecesPerSecond)} pieces a second: each held for ${seconds(holdMilliseconds)}, the leads apart for ${seconds(apartMilliseconds)}.${why}`;
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
  return `Leads that are open and a piece that is open look the same. Say that a piece is open ${sign}: overload for ${seconds(openDwellMilliseconds)} then counts as that piece. If something conducts before, it counts as it reads; what conducts within ${seconds(HEARD_MILLISECONDS)} after may be that piece and does not count.${back}`;
}

function farWords({ farOhms, handOhms, handMilliseconds, settledReadings }: CaptureSetting): string {
  const wider = farOhms === null ? '' : ` Above ${ohms(farOhms)} the band is wider in proportion.`;
  return `From ${ohms(handOhms)} up it may be a finger across the tips: ${settledReadings + 1} readings over ${seconds(handMilliseconds)} must agree.${wider}`;
}

function ohms(value: number): string {
  return formatOhms(new Big(value.toPrecision(DIGITS)));
}

/** To two figures, never more than it is. */
function floored(value: number): string {
  const step = 10 ** (Math.floor(Math.log10(value)) - 1);
  return String(Number((Math.floor(value / step) * step).toPrecision(DIGITS)));
}

function seconds(milliseconds: number): string {
  return `${Number((milliseconds / 1000).toPrecision(DIGITS))} s`;
}
