import type { CaptureSetting } from './setting.ts';

/** A reading that conducts. */
export interface Conducting {
  at: number;
  ohms: number;
}

/** What readings must fulfil before the last of them counts. */
interface Need {
  readings: number;
  milliseconds: number;
  bandOhms: number;
  driftOhms: number;
  /** So many readings more must confirm it. */
  confirmations: number;
}

/** From here on, in ohms, a finger across the tips may be what is read. Our choice: dry skin is about a megohm. */
export const HAND_OHMS = 50_000;

/**
 * An approach that slows down looks at rest to one who looks for too short a time: the agreeing readings must span so large a
 * share of the time since contact that a time constant long enough to deceive would still show. Where they span a quarter and
 * no longer drift by more than the noise, what is left of an exponential approach is below the noise.
 */
const SHARE_OF_CONTACT = 0.25;
/**
 * From here on, in ohms, the approach takes so long that a quarter of it cannot be told from the noise: in simulated streams with
 * 1 to 4 nF readings were 0.4 to 0.7 standard deviations high on average. With these two it is less than 0.1.
 */
export const SLOW_OHMS = 15e6;
const SHARE_OF_SLOW_CONTACT = 0.35;
/** Of readings that still fall, the first that seems at rest is one that the noise holds up; those after it are not chosen by it. */
export const CONFIRMATIONS_OF_SLOW = 3;
/** So many time constants at the most from contact until what is left is within the noise and the share is reached. */
export const SETTLING_CONSTANTS = { usual: 14, slow: 20 };
/** The share asks for no more than this, and for so many time constants more. */
const MOST_OF_CONTACT_MILLISECONDS = 2000;
const MOST_TIME_CONSTANTS = 30;
/** Capacitance of leads and hands that the test current has to charge, and how many time constants are waited for. */
export const STRAY_FARADS = 1e-9;
const TIME_CONSTANTS = 3;
/** Pieces far outside are on another range with another noise; their verdict depends on no fine band. Shares of the value. */
const FAR_BAND = 5e-4;
const FAR_DRIFT = 2e-4;

/** Whether a reading is so near zero that the tips may be touching each other. */
export function isShort(ohms: number, { shortOhms }: CaptureSetting): boolean {
  return shortOhms !== null && Math.abs(ohms) < shortOhms;
}

/** Whether a reading may be a finger's and is far enough from the window that nothing is lost by waiting longer. */
function isLikeHand(ohms: number, { handOhms, nearOhms }: CaptureSetting): boolean {
  return ohms >= handOhms && !(ohms >= nearOhms.from && ohms <= nearOhms.to);
}

/** How many times as wide bands are at this value as inside the window: more than 1 only far outside it. */
export function farFactor(ohms: number, { farOhms }: CaptureSetting): number {
  return farOhms === null ? 1 : Math.max(1, ohms / farOhms);
}

function needAt(ohms: number, contactMilliseconds: number, setting: CaptureSetting): Need {
  const { settledReadings, bandOhms, driftOhms, shortMilliseconds, handMilliseconds } = setting;
  const factor = farFactor(ohms, setting);
  const isFar = factor > 1;
  const mayBeHand = isLikeHand(ohms, setting);
  const constant = Math.abs(ohms) * STRAY_FARADS * 1000;
  const isSlow = ohms >= SLOW_OHMS;
  const share = isSlow ? SHARE_OF_SLOW_CONTACT : SHARE_OF_CONTACT;
  const milliseconds = Math.max(
    Math.min(contactMilliseconds * share, MOST_OF_CONTACT_MILLISECONDS + MOST_TIME_CONSTANTS * constant),
    TIME_CONSTANTS * constant,
    isShort(ohms, setting) ? shortMilliseconds : 0,
    mayBeHand ? handMilliseconds : 0,
  );
  return {
    readings: mayBeHand ? settledReadings + 1 : settledReadings,
    milliseconds,
    bandOhms: isFar ? Math.max(bandOhms * factor, ohms * FAR_BAND) : bandOhms,
    driftOhms: isFar ? Math.max(driftOhms * factor, ohms * FAR_DRIFT) : driftOhms,
    confirmations: isSlow ? CONFIRMATIONS_OF_SLOW : 0,
  };
}

/** How many times their own spread the last reading may be away from those before. Our choice. */
const SPREADS = 2;

/** How far readings agree. */
export interface Agreement {
  /** The latest readings that lie within the band, oldest first; no more of them than are needed. */
  readings: readonly Conducting[];
  /** How many of the settled readings are reached. */
  steady: number;
  /** So many times one after the other they have fulfilled what is needed. */
  times: number;
  settled: boolean;
}

export const NO_AGREEMENT: Agreement = { readings: [], steady: 0, times: 0, settled: false };

/**
 * The agreement after one more reading without an open one in between.
 * @param contactSince when the contact began that has gone on since
 */
export function agreementWith(
  before: Agreement,
  reading: Conducting,
  contactSince: number,
  setting: CaptureSetting,
): Agreement {
  const need = needAt(reading.ohms, reading.at - contactSince, setting);
  const all = withinBand([...before.readings, reading], need.bandOhms);
  const first = firstNeeded(all, need);
  if (first === null) return { readings: all, steady: steadyOf(all, need, setting), times: 0, settled: false };
  const readings = all.slice(first);
  const agrees = !isCreeping(readings, need.driftOhms) && !isDeparting(readings, need.driftOhms);
  const times = agrees ? before.times + 1 : 0;
  const settled = times > need.confirmations;
  const { settledReadings } = setting;
  return { readings, steady: settled ? settledReadings : settledReadings - 1, times, settled };
}

/** The latest readings that all lie within the band; a reading that is no number agrees with nothing. */
function withinBand(readings: readonly Conducting[], bandOhms: number): readonly Conducting[] {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let first = readings.length;
  while (first > 0) {
    const { ohms } = readings[first - 1] as Conducting;
    lowest = Math.min(lowest, ohms);
    highest = Math.max(highest, ohms);
    if (!(highest - lowest <= bandOhms)) break;
    first--;
  }
  return readings.slice(first);
}

/** Index of the reading from which on there are enough for long enough; null while there are not. */
function firstNeeded(readings: readonly Conducting[], need: Need): number | null {
  const last = readings.at(-1);
  if (last === undefined) return null;
  for (let index = readings.length - need.readings; index >= 0; index--) {
    if (last.at - (readings[index] as Conducting).at >= need.milliseconds) return index;
  }
  return null;
}

function steadyOf(readings: readonly Conducting[], need: Need, { settledReadings }: CaptureSetting): number {
  const [first] = readings;
  const last = readings.at(-1);
  if (first === undefined || last === undefined) return 0;
  const ofReadings = readings.length / need.readings;
  const ofTime = need.milliseconds === 0 ? 1 : (last.at - first.at) / need.milliseconds;
  return Math.min(settledReadings - 1, Math.max(1, Math.floor(settledReadings * Math.min(ofReadings, ofTime))));
}

/**
 * Whether the means of the first and the last third are apart by more than the drift that noise may show: `driftOhms` where each
 * is a single reading, less with the square root of how many they are of.
 */
function isCreeping(readings: readonly Conducting[], driftOhms: number): boolean {
  const third = readings.length / 3;
  const early = mean(readings.slice(0, Math.round(third)));
  const late = mean(readings.slice(Math.round(2 * third)));
  return Math.abs(late - early) > driftOhms / Math.sqrt(third);
}

/**
 * Whether the last reading leaves the others by more than the drift and more than they are apart themselves: the piece may
 * have begun to slip while it was taken.
 */
function isDeparting(readings: readonly Conducting[], driftOhms: number): boolean {
  const before = readings.slice(0, -1);
  const values = before.map(({ ohms }) => ohms);
  const spread = Math.max(...values) - Math.min(...values);
  const away = Math.abs((readings.at(-1)?.ohms ?? 0) - mean(before));
  return away > Math.max(driftOhms, SPREADS * spread);
}

function mean(readings: readonly Conducting[]): number {
  return readings.reduce((sum, { ohms }) => sum + ohms, 0) / readings.length;
}
