/** Small whole numbers are what instruments answer most: 0 and 1 for off and on, 0 for no events, 1 or 10 cycles. */
const LEAST = 32;

/**
 * Numbers that were not used of late, so that an answer that carries one can be told from any older answer.
 * @param random a number from 0 up to, not including, 1
 * @param largest the numbers are 32 up to this one, or 0 up to it where that would leave few
 */
export class FreshNumbers {
  readonly #random: () => number;
  readonly #least: number;
  readonly #count: number;
  readonly #kept: number[] = [];

  constructor(random: () => number, largest: number) {
    this.#random = random;
    this.#least = largest >= 3 * LEAST ? LEAST : 0;
    this.#count = largest - this.#least + 1;
  }

  next(): number {
    let place = Math.floor(this.#random() * this.#count);
    while (this.#kept.includes(place)) place = (place + 1) % this.#count;
    this.#kept.push(place);
    // Where a line holds everything back for long, many proofs are under way at once, and all of them still come. The
    // other half must do, or the next number could be guessed from those before it.
    if (this.#kept.length > (this.#count - 1) >> 1) this.#kept.shift();
    return this.#least + place;
  }
}
