import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';

export type Distribution = 'normal' | 'rectangular' | 'triangular' | 'u-shaped';

/**
 * What the half-width of each is divided by to make a standard uncertainty (JCGM 100:2008, 4.3.7 and 4.3.9; U-shaped: H.1.3.4
 * cyclic variation). What is normal is divided by its own coverage factor instead.
 */
export const DIVISORS: Readonly<Record<Exclude<Distribution, 'normal'>, number>> = {
  rectangular: Math.sqrt(3),
  triangular: Math.sqrt(6),
  'u-shaped': Math.SQRT2,
};

/** One thing a result depends on, with its standard uncertainty: a line of the budget (EA-4/02 M:2022, 4). */
export interface Input {
  /** What it is, in words. */
  name: string;
  /** Where the figure comes from: a clause, or who said it. */
  source: string;
  /** Best estimate, with its unit; left out where it is not written down. */
  estimate?: string;
  /** Half-width, expanded or standard uncertainty as it was given, with its unit. */
  given: string;
  distribution: Distribution;
  /** What the given figure was divided by to make the standard uncertainty. */
  divisor: number;
  /** In `unit`, 0 or more. */
  standardUncertainty: number;
  unit: string;
  /** Ohms of the result for each `unit`, either sign. */
  sensitivity: number;
  /** More than 0; null for infinitely many. */
  degreesOfFreedom: number | null;
}

/** A contribution of which nothing is known but that it lies within ± so many ohms (JCGM 100:2008, 4.3.7). */
export function withinOhms(name: string, source: string, halfWidthOhms: DecimalText): Input {
  return {
    name,
    source,
    estimate: '0 Ω',
    given: `±${halfWidthOhms} Ω`,
    distribution: 'rectangular',
    divisor: DIVISORS.rectangular,
    standardUncertainty: Math.abs(Number(halfWidthOhms)) / DIVISORS.rectangular,
    unit: 'Ω',
    sensitivity: 1,
    degreesOfFreedom: null,
  };
}

export interface Contribution extends Input {
  /** |sensitivity| times standard uncertainty. */
  ohms: number;
  /** Of the square of the combined uncertainty. With correlations what it shares with others is halved between them, and a share may be below 0. */
  sharePercent: number;
}

/** A budget of uncertainty. All in ohms, or whatever unit the result has. */
export interface Budget {
  contributions: Contribution[];
  /** Combined standard uncertainty u. */
  combinedOhms: number;
  /** Null for infinitely many. */
  effectiveDegreesOfFreedom: number | null;
  /** 0 to 1. */
  coverageProbability: number;
  coverageFactor: number;
  /** U = k · u. */
  expandedOhms: number;
  /** What limits these figures, in words. */
  notes: string[];
}

/** 95.45 %: what ±2 standard deviations of a normal distribution hold (EA-4/02 M:2022, 5), so that k is 2 with infinitely many degrees of freedom. */
export const COVERAGE_PROBABILITY = 0.9544997361036416;

export interface CombineOptions {
  /** Correlation coefficients of the inputs, a whole symmetric matrix in their order. Left out: none are correlated. */
  correlations?: readonly (readonly number[])[];
  /** Above 0, below 1. */
  coverageProbability?: number;
}

/**
 * The law of propagation of uncertainty (JCGM 100:2008, 5.1.2; with correlations 5.2.2), effective degrees of freedom
 * (Welch-Satterthwaite, G.4.1, equation G.2b), coverage factor t_p of them truncated to the next lower whole number, and
 * expanded uncertainty (6.2.1, G.3).
 * The Welch-Satterthwaite formula is for independent inputs. With correlations the fewest degrees of freedom of any input
 * are taken, which is exact where all were observed together (H.2) and else on the safe side.
 * @throws problem budget-unusable
 */
export function combine(inputs: readonly Input[], options: CombineOptions = {}): Budget {
  const { signed, parts, variance, ...budget } = combined(inputs, options);
  return {
    contributions: inputs.map((input, i) => ({
      ...input,
      ohms: Math.abs(signed[i] as number),
      sharePercent: variance === 0 ? 0 : ((parts[i] as number) / variance) * 100,
    })),
    ...budget,
    notes:
      options.correlations && budget.effectiveDegreesOfFreedom !== null
        ? ['Inputs are correlated, so the fewest degrees of freedom of any of them are taken for all.']
        : [],
  };
}

/** The figures of a budget, with what its lines are made from. */
export interface Combined extends Omit<Budget, 'contributions' | 'notes'> {
  /** Sensitivity times standard uncertainty of each input. */
  signed: number[];
  /** What each input has of the variance: its own square and half of what it shares with each other. */
  parts: number[];
  variance: number;
}

/** The figures of a budget without its lines: see {@link combine}, which makes them from these. @throws problem budget-unusable */
export function combined(inputs: readonly Input[], options: CombineOptions = {}): Combined {
  const { correlations, coverageProbability = COVERAGE_PROBABILITY } = options;
  if (!(coverageProbability > 0 && coverageProbability < 1)) {
    throw problem('budget-unusable', `${coverageProbability} is no coverage probability`);
  }
  for (const input of inputs) mustBeUsable(input);
  if (correlations) mustBeCorrelations(correlations, inputs.length);

  const signed = inputs.map(({ sensitivity, standardUncertainty }) => sensitivity * standardUncertainty);
  const known = inputs.map(({ degreesOfFreedom }) => degreesOfFreedom);
  return figuresOf(signed, known, correlations, coverageProbability);
}

/**
 * The figures of a budget from what each input has of the result, for one reading after the other: see {@link combined}, which
 * checks its inputs first.
 * @param signed sensitivity times standard uncertainty of each input, finite
 * @param degreesOfFreedom of each, more than 0; null for infinitely many
 */
export function figuresOf(
  signed: number[],
  degreesOfFreedom: readonly (number | null)[],
  correlations: CombineOptions['correlations'] = undefined,
  coverageProbability = COVERAGE_PROBABILITY,
): Combined {
  const parts = signed.map((own, i) =>
    correlations
      ? own * signed.reduce((sum, other, j) => sum + correlationOf(correlations, i, j) * other, 0)
      : own * own,
  );
  const variance = varianceOf(parts, signed);
  const combinedOhms = Math.sqrt(variance);
  const effective = correlations
    ? fewest(degreesOfFreedom)
    : effectiveDegreesOfFreedom(signed, degreesOfFreedom, combinedOhms);
  const factor = coverageFactor(effective, coverageProbability);
  return {
    signed,
    parts,
    variance,
    combinedOhms,
    effectiveDegreesOfFreedom: effective,
    coverageProbability,
    coverageFactor: factor,
    expandedOhms: factor * combinedOhms,
  };
}

/**
 * Effective degrees of freedom by Welch-Satterthwaite, not truncated; null for infinitely many.
 * Source: JCGM 100:2008, G.4.1, equation G.2b.
 */
function effectiveDegreesOfFreedom(
  signed: readonly number[],
  degreesOfFreedom: readonly (number | null)[],
  combinedOhms: number,
): number | null {
  if (combinedOhms === 0) return null;
  let sum = 0;
  for (let i = 0; i < signed.length; i++) {
    const degrees = degreesOfFreedom[i] ?? null;
    // Shares, not fourth powers of ohms, which would run out of a double.
    if (degrees !== null) sum += ((signed[i] as number) / combinedOhms) ** 4 / degrees;
  }
  return sum === 0 || !Number.isFinite(1 / sum) ? null : 1 / sum;
}

function fewest(degreesOfFreedom: readonly (number | null)[]): number | null {
  const known = degreesOfFreedom.filter((degrees) => degrees !== null);
  return known.length === 0 ? null : Math.min(...known);
}

/** Quantiles are slow for a reading in a hurry, and few different ones are ever asked for. */
const remembered = new Map<number, Map<number, number>>();
/** From here on the coverage factor moves by less than 1 in 500 000. */
const AS_GOOD_AS_INFINITE = 1_000_000;
const EVERY_ONE_COUNTS_UP_TO = 1000;

/**
 * The coverage factor t_p for so many degrees of freedom, two-sided (JCGM 100:2008, G.3 and Table G.2). They are rounded
 * to one decimal, as the guide prints them, and truncated to the next lower whole number (G.4.1), above a thousand to two figures.
 * @param degreesOfFreedom more than 0; null for infinitely many; less than one counts as one
 * @param probability above 0, below 1
 */
export function coverageFactor(degreesOfFreedom: number | null, probability = COVERAGE_PROBABILITY): number {
  const whole = degreesOfFreedom === null ? Number.POSITIVE_INFINITY : truncated(degreesOfFreedom);
  let factors = remembered.get(probability);
  if (!factors) {
    factors = new Map();
    remembered.set(probability, factors);
  }
  let factor = factors.get(whole);
  if (factor === undefined) {
    const upTo = (1 + probability) / 2;
    factor = whole === Number.POSITIVE_INFINITY ? normalQuantile(upTo, 0, 1) : tQuantile(upTo, whole);
    factors.set(whole, factor);
  }
  return factor;
}

function truncated(degreesOfFreedom: number): number {
  const asPrinted = Math.round(degreesOfFreedom * 10) / 10;
  const whole = Math.max(1, Math.min(AS_GOOD_AS_INFINITE, Math.floor(asPrinted)));
  if (whole <= EVERY_ONE_COUNTS_UP_TO) return whole;
  const place = 10 ** (Math.floor(Math.log10(whole)) - 1);
  return Math.floor(whole / place) * place;
}

function correlationOf(correlations: readonly (readonly number[])[], i: number, j: number): number {
  return correlations[i]?.[j] ?? 0;
}

/** Full correlation may cancel everything; what rounding leaves of it below zero is zero. */
function varianceOf(parts: readonly number[], signed: readonly number[]): number {
  let [variance, reach] = [0, 0];
  for (const part of parts) variance += part;
  for (const one of signed) reach += Math.abs(one);
  const most = reach ** 2;
  if (Math.abs(variance) <= most * 1e-14) return 0;
  if (variance < 0) throw problem('budget-unusable', 'the correlation coefficients contradict each other');
  return variance;
}

function mustBeUsable({ name, standardUncertainty, sensitivity, degreesOfFreedom }: Input): void {
  if (!(Number.isFinite(standardUncertainty) && standardUncertainty >= 0)) {
    throw problem('budget-unusable', `${name} has a standard uncertainty of ${standardUncertainty}`);
  }
  if (!Number.isFinite(sensitivity)) throw problem('budget-unusable', `${name} has a sensitivity of ${sensitivity}`);
  if (degreesOfFreedom !== null && !(Number.isFinite(degreesOfFreedom) && degreesOfFreedom > 0)) {
    throw problem('budget-unusable', `${name} has ${degreesOfFreedom} degrees of freedom`);
  }
}

function mustBeCorrelations(correlations: readonly (readonly number[])[], size: number): void {
  const isOne = (i: number, j: number) => {
    const r = correlationOf(correlations, i, j);
    return i === j ? r === 1 : Math.abs(r) <= 1 && r === correlationOf(correlations, j, i);
  };
  const isWhole = correlations.length === size && correlations.every((row) => row.length === size);
  if (!isWhole || !correlations.every((row, i) => row.every((_, j) => isOne(i, j)))) {
    throw problem(
      'budget-unusable',
      `the correlation coefficients of ${size} inputs are not a symmetric matrix from -1 to 1 with 1 along its diagonal`,
    );
  }
}
