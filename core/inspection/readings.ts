import { type Judged, judgedIn, type PackedReadings, packed, unpacked } from './packedReadings.ts';
import type { Reading } from './run.ts';

/** Readings of one page: few enough that nobody who packs or unpacks one holds up anything else. */
export const PAGE = 4096;

/**
 * The readings of a run in the order they were taken; they never change, one more makes others. The latest are there as they are,
 * all before them packed page by page, in a fifth of the room and as they go over a door. So a run of any length is opened without
 * making its readings: one is made when it is looked at. At least a page of the latest is never packed.
 */
export class Readings implements Iterable<Reading> {
  readonly #pageSize: number;
  readonly #pages: readonly PackedReadings[];
  /** The latest are the first so many of these; what stands behind them was added for others, made from these. */
  readonly #grown: Reading[];
  readonly #count: number;

  /** @param latest belongs to these from now on */
  private constructor(pageSize: number, pages: readonly PackedReadings[], latest: Reading[]) {
    this.#pageSize = pageSize;
    this.#pages = pages;
    this.#grown = latest;
    this.#count = latest.length;
  }

  /** @param readings whose numbers are their places from 1 */
  static of(readings: Iterable<Reading>, pageSize = PAGE): Readings {
    let all = new Readings(pageSize, [], []);
    for (const reading of readings) all = all.push(reading);
    return all;
  }

  /**
   * From all pages of a run, in order.
   * @throws Error of a page that does not follow the one before: it would be a fault of ours
   */
  static ofPages(pages: readonly PackedReadings[], pageSize = PAGE): Readings {
    let size = 0;
    for (const { from, count } of pages) {
      if (from !== size) throw new Error(`the page of reading ${from + 1} came after ${size}`);
      size += count;
    }
    const latest = Math.max(0, Math.floor(size / pageSize) - 1);
    return new Readings(pageSize, pages.slice(0, latest), pages.slice(latest).flatMap(readingsOf));
  }

  get size(): number {
    return this.#packedSize + this.#count;
  }

  get #packedSize(): number {
    return this.#pages.length * this.#pageSize;
  }

  /** The reading at a place from 0; undefined where there is none. */
  get(place: number): Reading | undefined {
    const page = this.#pages[Math.floor(place / this.#pageSize)];
    if (page) return readingsOf(page)[place - page.from];
    return place < 0 || place >= this.size ? undefined : this.#grown[place - this.#packedSize];
  }

  first(): Reading | undefined {
    return this.get(0);
  }

  last(): Reading | undefined {
    return this.#grown[this.#count - 1] ?? this.get(this.size - 1);
  }

  [Symbol.iterator](): Iterator<Reading> {
    return this.#walk(0, this.size, unpacked);
  }

  toJSON(): Reading[] {
    return this.slice();
  }

  /** The readings at places from `from` to before `to`. */
  slice(from = 0, to = this.size): Reading[] {
    return [...this.#walk(from, to, unpacked)];
  }

  takeLast(count: number): Reading[] {
    return this.slice(Math.max(0, this.size - count));
  }

  /** The last reading of which `holds` is true. */
  findLast(holds: (reading: Reading) => boolean): Reading | undefined {
    for (let place = this.#count - 1; place >= 0; place--) {
      const reading = this.#grown[place] as Reading;
      if (holds(reading)) return reading;
    }
    for (let index = this.#pages.length - 1; index >= 0; index--) {
      const found = readingsOf(this.#pages[index] as PackedReadings).findLast(holds);
      if (found) return found;
    }
    return undefined;
  }

  /** How the readings at places from `from` to before `to` stand: quicker than all that is known of them. */
  judged(from = 0, to = this.size): Iterable<Judged> {
    return this.#walk<Judged>(from, to, judgedIn);
  }

  /** These readings and one more. @param reading its number is the size of these + 1 */
  push(reading: Reading): Readings {
    // Nobody else has added to these: the array grows, and those of before still see their part of it only. So one more costs no copy.
    const latest = this.#grown.length === this.#count ? this.#grown : this.#grown.slice(0, this.#count);
    latest.push(reading);
    if (latest.length < 2 * this.#pageSize) return new Readings(this.#pageSize, this.#pages, latest);
    const page = packed(latest.slice(0, this.#pageSize), this.#packedSize);
    return new Readings(this.#pageSize, [...this.#pages, page], latest.slice(this.#pageSize));
  }

  /** These readings, those at places from `from` to before `to` changed. @param change keeps the number of a reading */
  changed(from: number, to: number, change: (reading: Reading) => Reading): Readings {
    const changed = (reading: Reading) => (reading.reading > from && reading.reading <= to ? change(reading) : reading);
    const isTouched = (first: number, count: number) => from < first + count && to > first;
    const pages = this.#pages.map((page) =>
      isTouched(page.from, page.count) ? packed(readingsOf(page).map(changed), page.from) : page,
    );
    const kept = this.#grown.slice(0, this.#count);
    const latest = isTouched(this.#packedSize, this.#count) ? kept.map(changed) : kept;
    return new Readings(this.#pageSize, pages, latest);
  }

  /** At most so many pages, from the one that begins behind `from` readings; `from` is a multiple of the page's size. */
  pages(from: number, most: number): PackedReadings[] {
    const pages: PackedReadings[] = [];
    for (let start = from; start < this.size && pages.length < most; start += this.#pageSize) {
      pages.push(
        this.#pages[start / this.#pageSize] ??
          packed(this.slice(start, Math.min(this.size, start + this.#pageSize)), start),
      );
    }
    return pages;
  }

  /** Through readings one after the other; a page that is packed is opened when it is come to. */
  *#walk<Part>(
    from: number,
    to: number,
    open: (page: PackedReadings) => (place: number) => Part,
  ): Generator<Part | Reading> {
    for (let index = Math.floor(from / this.#pageSize); index < this.#pages.length; index++) {
      const page = this.#pages[index] as PackedReadings;
      if (page.from >= to) return;
      const opened = open(page);
      const end = Math.min(page.count, to - page.from);
      for (let place = Math.max(0, from - page.from); place < end; place++) yield opened(place);
    }
    const end = Math.min(this.#count, to - this.#packedSize);
    for (let place = Math.max(0, from - this.#packedSize); place < end; place++) yield this.#grown[place] as Reading;
  }
}

/** The page that was looked into last: who looks at one reading mostly looks at its neighbours next. */
let last: { page: PackedReadings; readings: readonly Reading[] } | null = null;

function readingsOf(page: PackedReadings): readonly Reading[] {
  if (last?.page !== page) {
    const reading = unpacked(page);
    last = { page, readings: Array.from({ length: page.count }, (_, place) => reading(place)) };
  }
  return last.readings;
}
