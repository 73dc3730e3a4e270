import { problem } from '../problem/problem.ts';
import { Extremes } from './extremes.ts';
import { grown } from './grown.ts';

/** What is left of a stretch when it is thinned. All are places in the order in which points were added. */
export interface Left {
  /** The points of the line, rising; those that are to be kept among them. */
  line: number[];
  /** The points that are to be kept, or as many as were asked for. */
  kept: number[];
  /** How many points of the stretch are to be kept. */
  toKeep: number;
}

/** With fewer points than this for three stretches, ends and extremes could not be shown. */
const LEAST = 12;

/**
 * Points of a line in rising order of x, of which any stretch can be had with as few points as a screen can show: the line
 * through them covers the same pixels. Of each bucket of a stretch the first, last, lowest and highest point are left, which
 * is what a line can show of it (Jugel, Jerzak, Hackenbroich, Markl: M4, VLDB 2014). Points that are to be kept (out of the
 * window, suspect) are all left, up to a stated most; then the first, last, lowest and highest of each bucket of these.
 */
export class Thinned {
  readonly #y: Extremes;
  readonly #keptY = new Extremes();
  #x: Float64Array<ArrayBuffer>;
  #keptAt = new Uint32Array(16);

  /** @param room for how many points, where it is known; more may come */
  constructor(room = 0) {
    this.#y = new Extremes(room);
    this.#x = new Float64Array(Math.max(16, room));
  }

  get size(): number {
    return this.#y.size;
  }

  /** x and y of the point at a place from 0 to before `size`. */
  x(place: number): number {
    return this.#x[place] as number;
  }

  y(place: number): number {
    return this.#y.at(place);
  }

  /**
   * Adds a point behind the others.
   * @param x not below that of the point before
   * @param y any number; infinite for what lies beyond all others
   * @param isKept never thinned away, as far as there is room
   * @throws problem figure-not-finite of NaN; chart-out-of-order
   */
  append(x: number, y: number, isKept: boolean): void {
    const place = this.size;
    if (!Number.isFinite(x)) throw problem('figure-not-finite', String(x));
    if (place > 0 && x < this.x(place - 1)) throw problem('chart-out-of-order', x, this.x(place - 1));
    this.#y.append(y);
    this.#x = grown(this.#x, place);
    this.#x[place] = x;
    if (!isKept) return;
    this.#keptAt = grown(this.#keptAt, this.#keptY.size);
    this.#keptAt[this.#keptY.size] = place;
    this.#keptY.append(y);
  }

  /**
   * What is to be drawn of the points with x from `from` to `to`, both with. The point before the first and the one after the
   * last are with the line, so that it reaches the edges.
   * @param most points of the line without those that are kept, 12 or more
   * @param mostKept of the points that are to be kept, 12 or more
   */
  stretch(from: number, to: number, most: number, mostKept: number): Left {
    const first = firstFrom(from, this.size, (place) => this.x(place));
    const end = firstFrom(to, this.size, (place) => this.x(place), true);
    const firstKept = firstFrom(first, this.#keptY.size, (index) => this.#keptAt[index] as number);
    const endKept = firstFrom(end, this.#keptY.size, (index) => this.#keptAt[index] as number);
    const kept = picked(this.#keptY, firstKept, endKept, mostKept).map((index) => this.#keptAt[index] as number);
    const line = picked(this.#y, Math.max(0, first - 1), Math.min(this.size, end + 1), most);
    return { line: merged(line, kept), kept, toKeep: Math.max(0, endKept - firstKept) };
  }
}

/** The first place whose key is not below `key`; with `past` the first whose key is above it. Keys rise. */
function firstFrom(key: number, size: number, keyAt: (place: number) => number, past = false): number {
  let [low, high] = [0, size];
  while (low < high) {
    const middle = (low + high) >>> 1;
    const found = keyAt(middle);
    if (found < key || (past && found === key)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * At most `most` places from `from` to before `to`. Buckets hold a power of two and begin at its multiples, so that a point
 * that is left stays so while the stretch moves.
 */
function picked(values: Extremes, from: number, to: number, most: number): number[] {
  const count = to - from;
  if (count <= 0) return [];
  if (count <= Math.max(LEAST, most)) return Array.from({ length: count }, (_, index) => from + index);
  // The first and the last bucket may be cut, which makes one more than the whole ones.
  const buckets = Math.floor(Math.max(LEAST, most) / 4) - 1;
  const size = 2 ** Math.ceil(Math.log2(count / buckets));
  const left: number[] = [];
  for (let start = Math.floor(from / size) * size; start < to; start += size) {
    const [first, end] = [Math.max(start, from), Math.min(start + size, to)];
    const { lowest, highest } = values.between(first, end);
    for (const place of [first, Math.min(lowest, highest), Math.max(lowest, highest), end - 1]) {
      if (place !== left[left.length - 1]) left.push(place);
    }
  }
  return left;
}

/** Two rising lists as one, each place once. */
function merged(first: readonly number[], second: readonly number[]): number[] {
  const all: number[] = [];
  let [i, j] = [0, 0];
  while (i < first.length || j < second.length) {
    const next = Math.min(first[i] ?? Number.POSITIVE_INFINITY, second[j] ?? Number.POSITIVE_INFINITY);
    if (first[i] === next) i++;
    if (second[j] === next) j++;
    all.push(next);
  }
  return all;
}
