import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';

/** Seeded chance: the same seed throws the same. */
export class Dice {
  readonly #generator;

  constructor(seed: number) {
    this.#generator = mersenne(seed);
  }

  /** Evenly from `from` up to, not including, `to`. */
  between(from: number, to: number): number {
    return from + (to - from) * uniformFloat64(this.#generator);
  }

  /** True in this share of cases. */
  happens(share: number): boolean {
    return this.between(0, 1) < share;
  }

  /** Normal with this standard deviation (Box and Muller, Ann. Math. Statist. 29 (1958) 610). */
  normal(deviation: number): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.between(0, 1)));
    return deviation * radius * Math.cos(2 * Math.PI * this.between(0, 1));
  }
}
