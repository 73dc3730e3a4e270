import { type Baseline, type Signals, signalsOf } from './ewma.ts';
import type { Values } from './values.ts';

/** Slack and decision limit in standard deviations: tuned to a shift of one standard deviation (e-Handbook 6.3.2.3). */
export const CUSUM_SLACK = 0.5;
export const CUSUM_LIMIT = 5;

/** One point of the two sums. */
export interface CusumPoint {
  /** What has gathered above the centre, 0 or more. */
  above: number;
  /** What has gathered below it, 0 or more. */
  below: number;
}

/**
 * The tabular cumulative sum, both ways, reading by reading: above = max(0, above + x - centre - k), below likewise.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.3.
 */
export class Cusum {
  readonly #centre: number;
  readonly #slack: number;
  #above = 0;
  #below = 0;

  /** @param slack k, in the unit of the readings */
  constructor(centre: number, slack: number) {
    this.#centre = centre;
    this.#slack = slack;
  }

  add(value: number): CusumPoint {
    this.#above = Math.max(0, this.#above + (value - this.#centre) - this.#slack);
    this.#below = Math.max(0, this.#below + (this.#centre - value) - this.#slack);
    return { above: this.#above, below: this.#below };
  }
}

/** Readings between two false signals with k 0.5 and h 5, both sides: Montgomery, Introduction to SQC (from memory). */
const CUSUM_RUN_LENGTH = 465;

/** The signals of the two sums over readings in order: beyond five standard deviations, with a slack of half a one. */
export function cusumSignals(inOrder: Values, { centre, spread }: Baseline): Signals {
  const cusum = new Cusum(centre, CUSUM_SLACK * spread);
  const limit = CUSUM_LIMIT * spread;
  return signalsOf(inOrder, CUSUM_RUN_LENGTH, (reading) => {
    const { above, below } = cusum.add(reading);
    return above > limit || below > limit;
  });
}
