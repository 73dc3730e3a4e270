import type { Values } from './values.ts';

/** What a chart holds readings against. */
export interface Baseline {
  /** Where readings should lie. */
  centre: number;
  /** Standard deviation of single readings, above 0. */
  spread: number;
}

/** One point of a chart with its limits. */
export interface ChartPoint {
  value: number;
  lower: number;
  upper: number;
}

/** Weight of the newest reading and width of the limits as the e-Handbook's example has them. */
export const EWMA_WEIGHT = 0.3;
export const EWMA_LIMITS = 3;

/**
 * The exponentially weighted moving average, reading by reading: z = λ·x + (1-λ)·z, from the centre on, with its exact limits
 * centre ± L·σ·√(λ/(2-λ)·(1-(1-λ)^2i)).
 * Source: NIST/SEMATECH e-Handbook 6.3.2.4.
 */
export class Ewma {
  readonly #baseline: Baseline;
  readonly #weight: number;
  readonly #width: number;
  #z: number;
  #left = 1;

  /** @param weight λ, above 0 to 1 @param width L, in standard deviations of the average */
  constructor(baseline: Baseline, weight = EWMA_WEIGHT, width = EWMA_LIMITS) {
    this.#baseline = baseline;
    this.#weight = weight;
    this.#width = width * baseline.spread * Math.sqrt(weight / (2 - weight));
    this.#z = baseline.centre;
  }

  /** Takes one more reading and gives the point it makes. */
  add(value: number): ChartPoint {
    this.#z += this.#weight * (value - this.#z);
    this.#left *= (1 - this.#weight) ** 2;
    const half = this.#width * Math.sqrt(1 - this.#left);
    const { centre } = this.#baseline;
    return { value: this.#z, lower: centre - half, upper: centre + half };
  }
}

/** Which readings of a chart lie outside its limits. */
export interface Signals {
  /** How many points there are. */
  n: number;
  /** How many of them lie outside; one change that lasts makes many. */
  count: number;
  /** Places of the first of them, from 0; at most a hundred. */
  places: number[];
  /** How often a signal begins by chance alone in so many readings without any change. */
  byChance: number;
}

/** Signals beyond these are counted only. */
export const MOST_PLACES = 100;

/** Readings between two false signals: λ 0.3 with L 3. Lucas and Saccucci, Technometrics 32 (1990), Table 3 (from memory). */
const EWMA_RUN_LENGTH = 465;

/** The signals of an EWMA chart over readings in order. */
export function ewmaSignals(inOrder: Values, baseline: Baseline): Signals {
  const ewma = new Ewma(baseline);
  return signalsOf(inOrder, EWMA_RUN_LENGTH, (reading) => {
    const { value, lower, upper } = ewma.add(reading);
    return value < lower || value > upper;
  });
}

/** Counts the readings that give a signal. */
export function signalsOf(inOrder: Values, runLength: number, isOut: (reading: number) => boolean): Signals {
  const places: number[] = [];
  let count = 0;
  for (let i = 0; i < inOrder.length; i++) {
    if (!isOut(inOrder[i] as number)) continue;
    count++;
    if (places.length < MOST_PLACES) places.push(i);
  }
  return { n: inOrder.length, count, places, byChance: inOrder.length / runLength };
}
