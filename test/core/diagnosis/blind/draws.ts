import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';

/** Random draws from one seed, in order. */
export class Draws {
  readonly #generator;

  constructor(seed: number) {
    this.#generator = mersenne(seed);
  }

  /** From `low` up to, not including, `high`. */
  between(low: number, high: number): number {
    return low + (high - low) * uniformFloat64(this.#generator);
  }

  /** As `between`, evenly over the ratio. */
  ratio(low: number, high: number): number {
    return Math.exp(this.between(Math.log(low), Math.log(high)));
  }

  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  chance(share: number): boolean {
    return this.between(0, 1) < share;
  }

  one<T>(of: readonly T[]): T {
    return of[this.whole(0, of.length - 1)] as T;
  }

  /** Standard normal, by the polar method (Marsaglia and Bray 1964, from memory). */
  normal(): number {
    for (;;) {
      const [a, b] = [this.between(-1, 1), this.between(-1, 1)];
      const s = a * a + b * b;
      if (s > 0 && s < 1) return a * Math.sqrt((-2 * Math.log(s)) / s);
    }
  }
}
