/** Up to here a double holds every whole number and value·scale rounds to the right one. 15 digits. */
const LARGEST = 2 ** 50;

/** Powers of ten are exact doubles up to here; no meter shows more decimals. */
const FINEST = 1e15;

/**
 * How far readings are from the first one, between the decimals they stand for.
 *
 * A meter sends decimals. The doubles nearest to 10000000.1 and 10000000.3 are each off by up to 1e-9, and their
 * difference by as much: its ninth digit is wrong before any sum is made. Counted in units of the last decimal both are
 * whole numbers, whose difference is exact. A double that is the nearest to no decimal of 15 digits stands for itself.
 */
export class DecimalDifference {
  readonly #first: number;
  #scale = 1;
  #firstUnits = 0;
  #decimal = true;

  constructor(first: number) {
    this.#first = first;
    this.#firstUnits = first;
    this.of(first);
  }

  /** value - first, correctly rounded. */
  of(value: number): number {
    while (this.#decimal) {
      const units = Math.round(value * this.#scale);
      // Division of whole numbers rounds correctly, so this holds just where value is the double nearest to that decimal.
      if (units / this.#scale === value && Math.abs(units) <= LARGEST) return (units - this.#firstUnits) / this.#scale;
      this.#refine();
    }
    return value - this.#first;
  }

  #refine(): void {
    this.#scale *= 10;
    this.#firstUnits = Math.round(this.#first * this.#scale);
    this.#decimal = this.#scale <= FINEST && Math.abs(this.#firstUnits) <= LARGEST;
  }
}
