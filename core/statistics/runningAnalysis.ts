import { type MannKendall, type Ties, testOf } from './mannKendall.ts';
import { percentile } from './percentile.ts';
import { Ranked } from './ranked.ts';
import { RunningSummary } from './runningSummary.ts';
import type { Summary } from './summary.ts';
import type { Refused, SortedValues } from './values.ts';

/**
 * What can be said of readings while they come, reading by reading in a few microseconds: the same figures as of all at once
 * (`analyse`). A voided reading is not taken back: begin anew without it.
 */
export class RunningAnalysis {
  readonly #summary = new RunningSummary();
  readonly #ranked = new Ranked();
  readonly #ties: Ties = { pairs: 0, variance: 0 };
  #s = 0;
  #ranges = 0;
  #last = 0;

  get n(): number {
    return this.#ranked.n;
  }

  /** @throws problem figure-not-finite */
  add(value: number): void {
    this.#summary.add(value);
    const { n } = this;
    const { below, equal } = this.#ranked.add(value);
    // Every earlier reading that is lower makes a pair that rises, every higher one a pair that falls.
    this.#s += below - (n - below - equal);
    this.#ties.pairs += equal;
    this.#ties.variance += tieTerm(equal + 1) - tieTerm(equal);
    if (n > 0) this.#ranges += Math.abs(value - this.#last);
    this.#last = value;
  }

  summary(): Summary | Refused {
    return this.#summary.summary();
  }

  /** Mean step from each reading to the next; null for fewer than two readings. */
  movingRange(): number | null {
    return this.n < 2 ? null : this.#ranges / (this.n - 1);
  }

  /** By type 7, as `percentile`. @param share 0 to 1 @throws RangeError for no readings */
  percentile(share: number): number {
    return percentile(this.sorted(), share);
  }

  /** All readings, lowest first: a copy. */
  sorted(): SortedValues {
    return this.#ranked.sorted();
  }

  mannKendall(): MannKendall | Refused {
    return testOf(this.n, this.#s, this.#ties);
  }
}

function tieTerm(t: number): number {
  return t * (t - 1) * (2 * t + 5);
}
