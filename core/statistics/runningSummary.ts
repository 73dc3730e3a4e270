import { problem } from '../problem/problem.ts';
import { DecimalDifference } from './decimalDifference.ts';
import { DoubleDouble } from './doubleDouble.ts';
import type { Summary } from './summary.ts';
import type { Refused } from './values.ts';

/**
 * The summary of readings, reading by reading; the same figures to the last digit as of all at once, since both are made
 * here. A voided reading is not taken back: begin anew without it.
 *
 * Sums and squares are kept about the first reading, in double-double. The first is itself one of the readings, so the
 * sum of squares about it is at most n times the one about the mean: what is lost in the difference is the digits of n,
 * and double-double has sixteen to spare.
 */
export class RunningSummary {
  #n = 0;
  #first = 0;
  #lowest = Number.POSITIVE_INFINITY;
  #highest = Number.NEGATIVE_INFINITY;
  #difference = new DecimalDifference(0);
  readonly #sum = new DoubleDouble();
  readonly #squares = new DoubleDouble();

  /** @throws problem figure-not-finite */
  add(value: number): void {
    if (!Number.isFinite(value)) throw problem('figure-not-finite', String(value));
    if (this.#n === 0) {
      this.#first = value;
      this.#difference = new DecimalDifference(value);
    }
    this.#n++;
    if (value < this.#lowest) this.#lowest = value;
    if (value > this.#highest) this.#highest = value;
    const difference = this.#difference.of(value);
    this.#sum.add(difference);
    this.#squares.addSquare(difference);
  }

  summary(): Summary | Refused {
    const n = this.#n;
    if (n === 0) return { refused: 'There is no reading to summarise.' };
    const mean = this.#first + this.#sum.value / n;
    const squares = Math.max(0, this.#squares.lessSquareOver(this.#sum, n));
    const range = new DecimalDifference(this.#lowest).of(this.#highest);
    if (!Number.isFinite(mean) || !Number.isFinite(squares) || !Number.isFinite(range)) {
      return { refused: 'The readings are too large to be summarised.' };
    }
    return {
      n,
      mean,
      standardDeviation: n < 2 ? null : Math.sqrt(squares / (n - 1)),
      lowest: this.#lowest,
      highest: this.#highest,
      range,
    };
  }
}
