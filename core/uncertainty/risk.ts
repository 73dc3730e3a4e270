import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { integral } from '../statistics/gaussLegendre.ts';
import type { Window } from '../window/window.ts';
import { coverageFactor } from './budget.ts';

type Limits = Pick<Window, 'lower' | 'upper'>;

/** A way to choose guard bands, w = r · U, with the probability of false acceptance of one value at the acceptance limit. */
export interface GuardPreset {
  /** r, times the expanded uncertainty. */
  factor: DecimalText;
  name: string;
  /** What it means for a piece that passes, one limit being near and U being made with k = 2. */
  words: string;
}

/** Guard bands as ILAC-G8:09/2019, Table 1 lists them (from memory, the probabilities recomputed). */
export const GUARD_FACTORS: readonly GuardPreset[] = [
  { factor: '0', name: 'none', words: 'up to 50 % of false acceptance at the limit' },
  { factor: '0.83', name: '0.83 U (ISO 14253-1:2017)', words: 'less than 5 % of false acceptance' },
  { factor: '1', name: '1 U (ILAC-G8)', words: 'less than 2.5 % of false acceptance' },
  { factor: '1.5', name: '1.5 U', words: 'less than 0.16 % of false acceptance' },
  { factor: '3', name: '3 U', words: 'less than 1 in a million of false acceptance' },
];

/** The standard uncertainty u = U / k, in ohms. */
export function standardOhms({
  expandedOhms,
  coverageFactor,
}: {
  expandedOhms: DecimalText;
  coverageFactor: DecimalText;
}): number {
  return Number(expandedOhms) / Number(coverageFactor);
}

/** Above so many degrees of freedom k is 2.00 to two decimals. */
const MOST_DEGREES_OF_FREEDOM = 1000;
const K_DECIMALS = 2;
const K_OF_INFINITELY_MANY = 2;

/**
 * The degrees of freedom that a coverage factor was made with, 95.45 %: the fewest that give it to its two decimals; null,
 * infinitely many, for 2.00 and whatever no degrees of freedom give.
 */
export function degreesOfFreedomOf({ coverageFactor: k }: { coverageFactor: DecimalText }): number | null {
  return fewestGiving(k);
}

const fewestGiving = rememberLast((k: DecimalText): number | null => {
  if (Number(k) <= K_OF_INFINITELY_MANY) return null;
  for (let degrees = 1; degrees <= MOST_DEGREES_OF_FREEDOM; degrees++) {
    if (coverageFactor(degrees).toFixed(K_DECIMALS) === k) return degrees;
  }
  return null;
});

/**
 * Probability that the true value lies inside the window, given one measured value: both tails, little being known of the
 * piece beforehand (JCGM 106:2012, 7.2 to 7.4). 0 to 1. With u = 0 it is 1 inside, limits included, and 0 outside.
 * @param ohms the measured value
 * @param standardOhms its standard uncertainty u, 0 or more
 * @param degreesOfFreedom of u: with few of them the t-distribution takes the place of the normal one; null for infinitely many
 * @throws problem figure-not-finite
 */
export function conformanceProbability(
  ohms: DecimalText,
  standardOhms: number,
  window: Limits,
  degreesOfFreedom: number | null = null,
): number {
  return shares(Number(ohms), mustBeSpread(standardOhms), numbersOf(window), degreesOfFreedom).inside;
}

/**
 * Probability that a verdict is wrong: that the piece lies outside though it was said to conform, or inside though it was
 * said not to (specific risk, JCGM 106:2012, 3.3.13 and 3.3.14, both tails). 0 to 1.
 * @param conforms what the verdict says
 * @param standardOhms standard uncertainty u of the value, 0 or more
 * @param degreesOfFreedom of u, null for infinitely many
 * @throws problem figure-not-finite
 */
export function probabilityWrong(
  conforms: boolean,
  ohms: DecimalText,
  standardOhms: number,
  window: Limits,
  degreesOfFreedom: number | null = null,
): number {
  const { inside, outside } = shares(Number(ohms), mustBeSpread(standardOhms), numbersOf(window), degreesOfFreedom);
  return conforms ? outside : inside;
}

/** The risks of a lot, joint probabilities of a piece of the process, 0 to 1. */
export interface GlobalRisks {
  /** Accepted, and outside the window. */
  consumer: number;
  /** Rejected, and inside the window. */
  producer: number;
  /** Inside the window: what the process makes of good pieces. */
  conforming: number;
}

/** A process, how it is measured and accepted; all in ohms. */
export interface Process {
  mean: number;
  /** Standard deviation of what it makes, 0 or more. */
  spread: number;
  /** Standard uncertainty u of a measured value, 0 or more. */
  measuring: number;
  /** Width w of the guard bands; below 0 they lie outside the window. */
  guard: number;
}

/**
 * Global consumer's and producer's risk (JCGM 106:2012, 9.4 and 9.5): a normal process, measured with normal errors, accepted
 * inside the window less its guard bands. Guard bands that meet accept nothing.
 * By Gauss-Legendre integration between breakpoints no further apart than either spread where it matters; the error is
 * below 1e-12 for any ratio of the two.
 * @throws problem figure-not-finite
 */
export function globalRisks(process: Process, window: Limits): GlobalRisks {
  const { mean, guard } = process;
  for (const one of [mean, guard]) if (!Number.isFinite(one)) throw problem('figure-not-finite', String(one));
  const spread = mustBeSpread(process.spread);
  const measuring = mustBeSpread(process.measuring);
  // As seen from the mean, so that a small spread is not lost beside it.
  const limits = shifted(numbersOf(window), -mean);
  const acceptance = { lower: limits.lower + guard, upper: limits.upper - guard };
  const conforming = shares(0, spread, limits).inside;
  if (acceptance.lower > acceptance.upper) return { consumer: 0, producer: conforming, conforming };
  if (spread === 0) {
    const { inside, outside } = shares(0, measuring, acceptance);
    return { consumer: (1 - conforming) * inside, producer: conforming * outside, conforming };
  }
  const breakpoints = breakpointsOf(spread, measuring, limits, acceptance);
  let consumer = 0;
  let producer = 0;
  for (let i = 1; i < breakpoints.length; i++) {
    const [from, to] = [breakpoints[i - 1] as number, breakpoints[i] as number];
    const middle = (from + to) / 2;
    const conforms = middle >= limits.lower && middle <= limits.upper;
    const part = integral(from, to, (value) => {
      const { inside: accepted, outside: rejected } = shares(value, measuring, acceptance);
      return (density(value / spread) / spread) * (conforms ? rejected : accepted);
    });
    if (conforms) producer += part;
    else consumer += part;
  }
  return { consumer, producer, conforming };
}

/** Beyond so many standard deviations there is less than 1e-18. */
const REACH = 9;

/** Where the integrand bends: each standard deviation of the process, and of the error about each limit of acceptance. */
function breakpointsOf(spread: number, measuring: number, limits: NumberLimits, acceptance: NumberLimits): number[] {
  const points = [limits.lower, limits.upper];
  for (let step = -REACH; step <= REACH; step++) {
    points.push(step * spread, acceptance.lower + step * measuring, acceptance.upper + step * measuring);
  }
  return points.filter((point) => Math.abs(point) <= REACH * spread).sort((a, b) => a - b);
}

interface NumberLimits {
  lower: number;
  upper: number;
}

/** A limit that is not checked is infinitely far. */
function numbersOf({ lower, upper }: Limits): NumberLimits {
  return {
    lower: lower === null ? Number.NEGATIVE_INFINITY : Number(lower),
    upper: upper === null ? Number.POSITIVE_INFINITY : Number(upper),
  };
}

function shifted({ lower, upper }: NumberLimits, by: number): NumberLimits {
  return { lower: lower + by, upper: upper + by };
}

function mustBeSpread(ohms: number): number {
  if (!(Number.isFinite(ohms) && ohms >= 0)) throw problem('figure-not-finite', String(ohms));
  return ohms;
}

/** How much of a normal distribution, or of t, lies inside limits, and outside. Each from its own tails, so that neither loses its figures near 0. */
function shares(
  mean: number,
  deviation: number,
  { lower, upper }: NumberLimits,
  degreesOfFreedom: number | null = null,
): { inside: number; outside: number } {
  if (deviation === 0) {
    const inside = mean >= lower && mean <= upper ? 1 : 0;
    return { inside, outside: 1 - inside };
  }
  const below = (lower - mean) / deviation;
  const above = (mean - upper) / deviation;
  const tail = (upTo: number) => tailOf(upTo, degreesOfFreedom);
  const outside = tail(below) + tail(above);
  // From the side where the numbers are small: far outside, 1 less the other side would leave nothing.
  const inside = below > above ? tail(-below) - tail(above) : tail(-above) - tail(below);
  return { inside: Math.max(0, inside), outside: Math.min(1, outside) };
}

function tailOf(upTo: number, degreesOfFreedom: number | null): number {
  if (upTo === Number.NEGATIVE_INFINITY) return 0;
  if (upTo === Number.POSITIVE_INFINITY) return 1;
  return degreesOfFreedom === null ? normalCdf(upTo, 0, 1) : tCdf(upTo, degreesOfFreedom);
}

function density(value: number): number {
  return Math.exp((-value * value) / 2) / Math.sqrt(2 * Math.PI);
}
