import type { SortedValues } from './values.ts';

/** Readings in one block, at most; a full block is parted in two. */
const BLOCK = 1024;

/** Where a reading stands among those that were there before it. */
export interface Rank {
  /** How many are lower. */
  below: number;
  /** How many are equal. */
  equal: number;
}

/**
 * Readings kept in order as they come, in sorted blocks: adding one moves at most a block and counts over the blocks, a few
 * microseconds among a million.
 */
export class Ranked {
  readonly #blocks: Float64Array[] = [];
  readonly #lengths: number[] = [];
  #n = 0;

  get n(): number {
    return this.#n;
  }

  /** Adds a reading and says where it stands among the others. @param value a finite number */
  add(value: number): Rank {
    const first = this.#blockOf(value);
    let below = this.#before(first);
    let equal = 0;
    let last = first;
    for (let index = first; index < this.#blocks.length; index++) {
      const start = this.#place(index, value, false);
      const end = this.#place(index, value, true);
      if (index === first) below += start;
      equal += end - start;
      last = index;
      if (end < this.#length(index)) break;
    }
    this.#insert(last, value);
    return { below, equal };
  }

  /** All of them, lowest first: a copy. */
  sorted(): SortedValues {
    const all = new Float64Array(this.#n);
    let start = 0;
    for (const [index, block] of this.#blocks.entries()) {
      const length = this.#length(index);
      all.set(block.subarray(0, length), start);
      start += length;
    }
    return all as SortedValues;
  }

  #length(index: number): number {
    return this.#lengths[index] as number;
  }

  #before(index: number): number {
    let count = 0;
    for (let block = 0; block < index; block++) count += this.#length(block);
    return count;
  }

  /** The first block whose largest reading is not below a value; the last one where none is. */
  #blockOf(value: number): number {
    let [from, to] = [0, Math.max(0, this.#blocks.length - 1)];
    while (from < to) {
      const middle = (from + to) >> 1;
      const largest = (this.#blocks[middle] as Float64Array)[this.#length(middle) - 1] as number;
      if (largest >= value) to = middle;
      else from = middle + 1;
    }
    return from;
  }

  /** How many of a block are below a value, or up to it. */
  #place(index: number, value: number, orEqual: boolean): number {
    const block = this.#blocks[index] as Float64Array;
    let [from, to] = [0, this.#length(index)];
    while (from < to) {
      const middle = (from + to) >> 1;
      const there = block[middle] as number;
      if (orEqual ? there <= value : there < value) from = middle + 1;
      else to = middle;
    }
    return from;
  }

  #insert(index: number, value: number): void {
    const block = this.#blocks[index];
    this.#n++;
    if (!block) {
      const only = new Float64Array(BLOCK);
      only[0] = value;
      this.#blocks.push(only);
      this.#lengths.push(1);
      return;
    }
    const place = this.#place(index, value, true);
    block.copyWithin(place + 1, place, this.#length(index));
    block[place] = value;
    this.#lengths[index] = this.#length(index) + 1;
    if (this.#length(index) === BLOCK) this.#part(index);
  }

  #part(index: number): void {
    const half = BLOCK / 2;
    const upper = new Float64Array(BLOCK);
    upper.set((this.#blocks[index] as Float64Array).subarray(half));
    this.#blocks.splice(index + 1, 0, upper);
    this.#lengths[index] = half;
    this.#lengths.splice(index + 1, 0, BLOCK - half);
  }
}
