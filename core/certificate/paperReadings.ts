import type { Row } from './format.ts';

/** Up to so many readings are printed all: some ninety pages. Our choice: of twice as many a browser lays out for a minute or more. */
export const ALL_UP_TO = 5000;
/** Of more, so many at each end. */
export const AT_EACH_END = 100;
/** Of more, so many of those between that did not simply pass. */
export const MOST_BETWEEN = 2000;

/** The readings that are printed of a certificate. */
export interface ReadingsOnPaper {
  /** Rows of readings, in the order they were taken. */
  rows: readonly Row[];
  /** How many readings the file has. */
  of: number;
  /** How many readings between those at both ends did not simply pass; null where all are printed. */
  notPassed: number | null;
}

/**
 * Chooses which readings are printed: all; of very many the first and the last, and of those between the ones that did not simply
 * pass (outside the window, open, on condition, void, suspect), as long as they are not too many either.
 */
export class PaperReadings {
  /** How many readings were given. */
  of = 0;
  readonly #first: Row[] = [];
  /** What may be printed of those behind the first. */
  readonly #notable: Row[] = [];
  #notPassed = 0;
  /** The last ones, more of them than are wanted. */
  readonly #last: Row[] = [];

  /** @param row of a reading, in the order they were taken */
  add(row: Row): void {
    this.of++;
    if (this.of <= ALL_UP_TO) this.#first.push(row);
    this.#last.push(row);
    if (this.#last.length > 2 * AT_EACH_END) this.#release(this.#last.splice(0, AT_EACH_END));
  }

  /** The readings to be printed of those that were given. Nothing is added afterwards. */
  printed(): ReadingsOnPaper {
    if (this.of <= ALL_UP_TO) return { rows: this.#first, of: this.of, notPassed: null };
    this.#release(this.#last.splice(0, this.#last.length - AT_EACH_END));
    return {
      rows: [...this.#first.slice(0, AT_EACH_END), ...this.#notable, ...this.#last],
      of: this.of,
      notPassed: this.#notPassed,
    };
  }

  /** These are not among the last. */
  #release(rows: readonly Row[]): void {
    for (const row of rows) {
      if (row.verdict === 'pass' || Number(row.item) <= AT_EACH_END) continue;
      this.#notPassed++;
      if (this.#notable.length < MOST_BETWEEN) this.#notable.push(row);
    }
  }
}
