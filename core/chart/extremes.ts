import { problem } from '../problem/problem.ts';
import { grown } from './grown.ts';

/** Places of the lowest and the highest value of a stretch; of equal ones the first. */
export interface Ends {
  lowest: number;
  highest: number;
}

/** Values in one bucket of the lowest level. Fewer are looked through faster than looked up. */
const BASE = 16;

/** The buckets of one level: each holds the places of its extremes, and spans twice as many values as one of the level below. */
interface Level {
  lowest: Uint32Array<ArrayBuffer>;
  highest: Uint32Array<ArrayBuffer>;
  count: number;
}

/**
 * Values in their order, with where the lowest and highest of any stretch stand: a pyramid of buckets, each made of two below
 * it. A value more costs a constant amount of work on average, a stretch is answered in steps that grow with the logarithm of
 * its length, and beside the eight bytes of each value there is one more.
 */
export class Extremes {
  #values: Float64Array<ArrayBuffer>;
  #size = 0;
  readonly #levels: Level[] = [];

  /** @param room for how many values, where it is known; more may come */
  constructor(room = 0) {
    this.#values = new Float64Array(Math.max(BASE, room));
  }

  get size(): number {
    return this.#size;
  }

  /** The value at a place from 0 to before `size`. */
  at(place: number): number {
    return this.#values[place] as number;
  }

  /**
   * Adds a value behind the others.
   * @param value any number; infinite for what lies beyond all others
   * @throws problem figure-not-finite of NaN, which is neither lower nor higher
   */
  append(value: number): void {
    if (Number.isNaN(value)) throw problem('figure-not-finite', 'NaN');
    this.#values = grown(this.#values, this.#size);
    this.#values[this.#size] = value;
    this.#size++;
    if (this.#size % BASE === 0) this.#close(0, this.#looked(this.#size - BASE, this.#size));
  }

  /** Extremes of the values from `from` to before `to`, at least one. */
  between(from: number, to: number): Ends {
    let ends: Ends = { lowest: from, highest: from };
    let place = from;
    while (place < to) {
      const level = this.#largestAt(place, to);
      if (level < 0) {
        ends = this.#with(ends, { lowest: place, highest: place });
        place++;
        continue;
      }
      const { lowest, highest } = this.#levels[level] as Level;
      const bucket = place / (BASE * 2 ** level);
      ends = this.#with(ends, { lowest: lowest[bucket] as number, highest: highest[bucket] as number });
      place += BASE * 2 ** level;
    }
    return ends;
  }

  /** The largest level whose bucket begins at this place and ends by `to`; -1 where none does. */
  #largestAt(place: number, to: number): number {
    let level = -1;
    for (let span = BASE; place % span === 0 && place + span <= to && level + 1 < this.#levels.length; span *= 2) {
      if (place / span >= (this.#levels[level + 1] as Level).count) break;
      level++;
    }
    return level;
  }

  #looked(from: number, to: number): Ends {
    let ends: Ends = { lowest: from, highest: from };
    for (let place = from + 1; place < to; place++) ends = this.#with(ends, { lowest: place, highest: place });
    return ends;
  }

  #with(first: Ends, second: Ends): Ends {
    const lowest = this.at(second.lowest) < this.at(first.lowest) ? second.lowest : first.lowest;
    const highest = this.at(second.highest) > this.at(first.highest) ? second.highest : first.highest;
    return { lowest, highest };
  }

  /** A bucket is full: it joins its level, and with every second one a bucket of the next level is full. */
  #close(height: number, ends: Ends): void {
    this.#levels[height] ??= { lowest: new Uint32Array(BASE), highest: new Uint32Array(BASE), count: 0 };
    const level = this.#levels[height] as Level;
    level.lowest = grown(level.lowest, level.count);
    level.highest = grown(level.highest, level.count);
    level.lowest[level.count] = ends.lowest;
    level.highest[level.count] = ends.highest;
    level.count++;
    if (level.count % 2 !== 0) return;
    const before = level.count - 2;
    const first = { lowest: level.lowest[before] as number, highest: level.highest[before] as number };
    this.#close(height + 1, this.#with(first, ends));
  }
}
