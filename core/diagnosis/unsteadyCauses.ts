import { percentile } from '../statistics/percentile.ts';
import { sortedOf } from '../statistics/values.ts';
import { ohmsText, percentText } from './causeWords.ts';
import type { LotSeen, Seen } from './lotSeen.ts';
import type { LotExplained } from './oddLot.ts';
import { FINGERS_FROM_OHMS, FINGERS_OHMS } from './readingCauses.ts';

/** Readings of one piece differ by their noise; by more than so many times that something moves. Our choice. */
const NOISES = 4;
/** So many standard deviations of the quiet side is beyond what a lot does by itself. Our choice. */
const EXCURSION = 8;
/** At least this share of the pieces, and this many, or they are single pieces. Our choice. */
const LEAST_SHARE = 0.04;
const LEAST_PIECES = 4;
/** A bad contact adds up to so much, rarely more (common practice). */
const MOST_CONTACT_OHMS = 50;
/** Excursions of a contact differ; pieces of a second value stand together. Standard deviation over mean. Our choice. */
const LEAST_VARIATION = 0.3;
/** From the tenth percentile of a normal lot to the ninetieth, in standard deviations. */
const TENTHS_APART = 2.5631;
/** From the fifth percentile to the twentieth. */
const LOW_END = 1.6449 - 0.8416;
/** A person's path differs at least so much from touch to touch, as the logarithm of a ratio. Our choice. */
const LEAST_PATHS_APART = 0.2;
/** With fewer pieces the low end of a lot is no measure of its spread. Our choice. */
const LEAST_FOR_ONE_SIDE = 25;
/** Half of normal values are no further from none than so many standard deviations. */
const HALF_OF_NORMAL = 0.6745;
/** A lot's standard deviation is rarely more of its tolerance (a process that just holds it has a third). */
const MOST_OWN_SPREAD = 0.45;

/** What comes and goes from one touch of the tips to the next. */
export function unsteadyCauses(lot: LotSeen): LotExplained[] {
  return [...unstableContact(lot), ...fingers(lot)];
}

function unstableContact(lot: LotSeen): LotExplained[] {
  const { repeats, noise, sorted } = lot;
  const steps = repeats.flatMap(stepsOf);
  // By their median: one piece that was mistaken for another is no contact.
  const typical = medianSize(steps) / HALF_OF_NORMAL;
  const drift = Math.abs(mean(steps)) * Math.sqrt(steps.length);
  const isErratic = steps.length >= 3 && noise > 0 && typical > NOISES * noise * Math.SQRT2 && drift < 3 * typical;
  const [lowest, low, base] = [0, 0.05, 0.2].map((part) => percentile(sorted, part)) as [number, number, number];
  const quiet = Math.max(noise, (base - low) / LOW_END);
  const excursions = [...sorted].filter((ohms) => ohms > base + EXCURSION * quiet).map((ohms) => ohms - base);
  const isOneSided =
    sorted.length >= LEAST_FOR_ONE_SIDE &&
    excursions.length >= Math.max(LEAST_PIECES, LEAST_SHARE * sorted.length) &&
    lowest > base - EXCURSION * quiet &&
    (excursions.at(-1) ?? 0) <= MOST_CONTACT_OHMS &&
    variation(excursions) >= LEAST_VARIATION;
  if (!isErratic && !isOneSided) return [];
  const evidence = [
    ...(isErratic
      ? [
          `Readings of the same piece, one after the other, differ by ${ohmsText(typical, 3)} (by the median of ${steps.length} differences), where the meter by itself makes ${ohmsText(noise * Math.SQRT2, 3)}.`,
        ]
      : []),
    ...(isOneSided
      ? [
          `${excursions.length} of ${sorted.length} pieces (${percentText(excursions.length / sorted.length)}) read too much, each by another amount, up to ${ohmsText(excursions.at(-1) ?? 0, 3)}; none as far below.`,
        ]
      : []),
  ];
  return [
    {
      cause: 'unstable contact',
      weight: isErratic && isOneSided ? 0.96 : isErratic ? 0.94 : 0.9,
      evidence: evidence.join(' '),
      next: 'Clean tips, fixture and the ends of the pieces, press harder or use clips, and take one piece ten times: it must stay within its uncertainty.',
    },
  ];
}

/** A person beside a high value: less is read, and another amount with each touch. */
function fingers({ nominal, share, along, halfWindow, noise }: LotSeen): LotExplained[] {
  if (nominal < FINGERS_FROM_OHMS) return [];
  const low = along.filter(({ ohms }) => ohms > 0 && ohms < nominal - halfWindow - 2 * noise);
  if (low.length < Math.max(LEAST_PIECES, LEAST_SHARE * along.length)) return [];
  if (along.some(({ ohms }) => ohms > nominal + 3 * halfWindow + EXCURSION * noise)) return [];
  const paths = sortedOf(low.map(({ ohms }) => (nominal * ohms) / (nominal - ohms)));
  const [least, most] = FINGERS_OHMS;
  const [from, middle, to] = [0.1, 0.5, 0.9].map((part) => percentile(paths, part)) as [number, number, number];
  if (middle < least || middle > most) return [];
  // One and the same path differs only as the pieces do, and the more the less it takes.
  const typical = (nominal * middle) / (nominal + middle);
  const own = (TENTHS_APART * MOST_OWN_SPREAD * share * nominal) / (nominal - typical);
  if (Math.log(to / from) < Math.max(LEAST_PATHS_APART, 1.5 * own)) return [];
  return [
    {
      cause: 'fingers on the tips',
      weight: 0.93,
      evidence: `${low.length} of ${along.length} pieces read too little, each by another amount: paths of ${ohmsText(from, 2)} to ${ohmsText(to, 2)} beside ${ohmsText(nominal)}. A person who touches both tips is such a path.`,
      next: 'Take these pieces again in clips or lying down, with no hand on more than one tip.',
    },
  ];
}

function stepsOf(group: readonly Seen[]): number[] {
  return group.slice(1).map(({ ohms }, index) => ohms - (group[index] as Seen).ohms);
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}

function medianSize(values: readonly number[]): number {
  const sizes = values.map(Math.abs).sort((a, b) => a - b);
  return sizes[sizes.length >> 1] ?? 0;
}

function variation(values: readonly number[]): number {
  const middle = mean(values);
  return middle === 0 ? 0 : Math.sqrt(mean(values.map((value) => (value - middle) ** 2))) / middle;
}
