import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { significant, significantPercent } from '../quantity/significant.ts';
import { summaryOf } from '../statistics/summary.ts';
import { isRefused } from '../statistics/values.ts';
import { shareBeyond } from './variablesEstimate.ts';
import type { VariablesPlan } from './variablesPlan.ts';

/** One limit of the window and how the lot lies to it. */
export interface LimitByVariables {
  side: 'lower' | 'upper';
  limitOhms: DecimalText;
  /** Quality index: the limit's distance from the mean in standard deviations, below 0 where the mean is beyond it; null: spread 0. */
  quality: number | null;
  /** Whether it is at least k, decided without rounding. */
  farEnough: boolean;
  /** Estimated share of the lot beyond this limit, 0 to 1. */
  share: number;
}

export interface VariablesJudgement {
  accepted: boolean;
  meanOhms: number;
  /** Of the pieces (with n - 1), or the known one. 0: all values are equal. */
  spreadOhms: number;
  spread: 'unknown' | 'known';
  limits: LimitByVariables[];
  /** Estimated share of the lot beyond all limits, 0 to 1, and M, the most that is accepted: k as a share. */
  share: number;
  mostShare: number;
  /** For the technician, with the figures it rests on. */
  why: string;
}

/** What is judged: limits as exact text, one null or none; the spread known, as exact text, or null. */
export interface ByVariables {
  limits: { lower: DecimalText | null; upper: DecimalText | null };
  plan: VariablesPlan;
  spreadOhms: DecimalText | null;
}

/**
 * Whether a lot is accepted by mean and spread of its sample.
 *
 * One limit: accepted when Q ≥ k (MIL-STD-414, Form 1; ISO 3951-1), decided in exact decimals of the readings and not by rounded
 * figures. Two limits: when the estimated shares beyond both are together at most M, the image of k by the same estimate (Form 2). This
 * asks Q ≥ k of each, which is decided exactly as well; where one share is 0 nothing else is asked, so no rounding decides there either.
 *
 * All values equal and spread unknown: accepted when they lie within the limits, since however small the spread is, Q is large. The
 * values must be those of a lot near normal (see shapeForVariables).
 * @param values readings in ohms that count, as many as the plan's sample
 * @throws problems figure-not-finite, variables-spread-impossible
 */
export function judgeByVariables(
  values: readonly number[],
  { limits, plan, spreadOhms }: ByVariables,
): VariablesJudgement {
  const spread = spreadOhms === null ? 'unknown' : 'known';
  const n = values.length;
  if (n !== plan.sampleSize || n < (spread === 'known' ? 2 : 3)) {
    throw new RangeError(`${n} values judged by a plan for ${plan.sampleSize}`);
  }
  if (spreadOhms !== null && !(Number(spreadOhms) > 0)) throw problem('variables-spread-impossible', spreadOhms);
  const summary = summaryOf(values);
  if (isRefused(summary)) throw problem('figure-not-finite', summary.refused);

  const sums = sumsOf(values, spreadOhms);
  const deviation = spreadOhms === null ? (summary.standardDeviation as number) : Number(spreadOhms);
  const judged = (side: 'lower' | 'upper', limitOhms: DecimalText | null): LimitByVariables[] => {
    if (limitOhms === null) return [];
    const within = withinOf(sums, side, limitOhms);
    const farEnough = isFarEnough(sums, within, plan.k);
    const quality = Number(within) / n / deviation;
    if (!Number.isFinite(quality)) return [{ side, limitOhms, quality: null, farEnough, share: within.lt(0) ? 1 : 0 }];
    return [{ side, limitOhms, quality, farEnough, share: shareBeyond(quality, n, spread) }];
  };
  const both = [...judged('lower', limits.lower), ...judged('upper', limits.upper)];
  if (both.length === 0) throw new RangeError('no limit to judge by');

  const share = Math.min(
    1,
    both.reduce((sum, limit) => sum + limit.share, 0),
  );
  const mostShare = shareBeyond(Number(plan.k), n, spread);
  const eachFarEnough = both.every(({ farEnough }) => farEnough);
  const oneSided = both.length === 1 || both.some((limit) => limit.share === 0);
  const accepted = eachFarEnough && (oneSided || share <= mostShare);
  const judgement = {
    accepted,
    meanOhms: summary.mean,
    spreadOhms: deviation,
    spread,
    limits: both,
    share,
    mostShare,
  } as const;
  return { ...judgement, why: whyOf(judgement, plan, n) };
}

/** Exact sums of the readings; `squares` is n²(n - 1) times the square of the standard deviation, known or not. */
interface Sums {
  n: number;
  sum: Big;
  squares: Big;
}

function sumsOf(values: readonly number[], spreadOhms: DecimalText | null): Sums {
  const n = values.length;
  let [sum, squares] = [new Big(0), new Big(0)];
  for (const value of values) {
    // The shortest text of the double is the decimal that the meter sent.
    const exact = new Big(value);
    sum = sum.plus(exact);
    squares = squares.plus(exact.times(exact));
  }
  if (spreadOhms !== null)
    return {
      n,
      sum,
      squares: new Big(spreadOhms)
        .pow(2)
        .times(n)
        .times(n)
        .times(n - 1),
    };
  return { n, sum, squares: squares.times(n).minus(sum.times(sum)).times(n) };
}

/** n times the distance of the mean from the limit, above 0 inside. */
function withinOf({ n, sum }: Sums, side: 'lower' | 'upper', limitOhms: DecimalText): Big {
  const limit = new Big(limitOhms).times(n);
  return side === 'upper' ? limit.minus(sum) : sum.minus(limit);
}

/** Q ≥ k, that is within·√(n - 1) ≥ k·√squares, by squares: no root is taken and nothing is rounded. */
function isFarEnough({ n, squares }: Sums, within: Big, k: DecimalText): boolean {
  const factor = new Big(k);
  const has = within.times(within).times(n - 1);
  const needs = factor.times(factor).times(squares);
  if (factor.gte(0)) return within.gte(0) && has.gte(needs);
  return within.gte(0) || has.lte(needs);
}

function whyOf(
  { accepted, meanOhms, spreadOhms, spread, limits, share, mostShare }: Omit<VariablesJudgement, 'why'>,
  { k }: VariablesPlan,
  n: number,
): string {
  const mean = ohms(meanOhms, 6);
  if (limits.some(({ quality }) => quality === null)) {
    const beyond = limits.find(({ farEnough }) => !farEnough);
    return beyond === undefined
      ? `All ${n} values are equal, ${mean}, and within the limits: their spread is below what the meter shows. The lot is accepted.`
      : `All ${n} values are equal, ${mean}, beyond the ${beyond.side} limit ${formatOhms(beyond.limitOhms)}. The lot is not accepted.`;
  }
  const known = spread === 'known' ? 'known standard deviation' : 'standard deviation';
  const begin = `Mean ${mean}, ${known} ${ohms(spreadOhms, 3)} (${n} pieces).`;
  const distances = limits.map((limit) => distanceWords(limit, k)).join(' ');
  const end = accepted ? 'The lot is accepted.' : 'The lot is not accepted.';
  if (limits.length === 1 || limits.some(({ farEnough }) => !farEnough)) return `${begin} ${distances} ${end}`;
  const [shown, most] = telling(
    (digits) => [significantPercent(share, digits), significantPercent(mostShare, digits)],
    (beyond, allowed) => beyond <= allowed === accepted,
  );
  return `${begin} ${distances} Together an estimated ${shown} % lie beyond the limits; at most ${most} % (k as a share) may. ${end}`;
}

function distanceWords({ side, limitOhms, quality, farEnough, share }: LimitByVariables, k: DecimalText): string {
  const [distance, asked] = telling(
    (digits) => [significant(quality as number, digits), plain(new Big(k))],
    (from, least) => from >= least === farEnough,
  );
  const limit = `${side} limit ${formatOhms(limitOhms)}`;
  const where = distance.startsWith('-')
    ? `The mean is ${distance.slice(1)} standard deviations beyond the ${limit} and should be at least ${asked} (k) inside it`
    : `The mean is ${distance} standard deviations inside the ${limit}; at least ${asked} (k) are asked for`;
  return `${where}. An estimated ${percent(share)} % of the pieces lie beyond this limit.`;
}

const LEAST_DIGITS = 3;
const MOST_DIGITS = 15;

/** Two figures with three digits, or as many as it takes that they do not seem to contradict the decision. */
function telling(
  figures: (digits: number) => [string, string],
  agrees: (value: number, other: number) => boolean,
): [string, string] {
  for (let digits = LEAST_DIGITS; digits < MOST_DIGITS; digits++) {
    const [value, other] = figures(digits);
    if (agrees(Number(value), Number(other))) return [value, other];
  }
  return figures(MOST_DIGITS);
}

const LEAST_SHOWN_SHARE = 1e-6;

function percent(share: number): string {
  return share > 0 && share < LEAST_SHOWN_SHARE ? 'less than 0.0001' : significantPercent(share, LEAST_DIGITS);
}

function ohms(value: number, digits: number): string {
  return formatOhms(plain(new Big(value.toPrecision(digits))));
}
