const INTERVALS_KEPT = 8;
/** Before anything is known: the slowest meters send about one reading in three seconds (common practice). */
const FIRST_MILLISECONDS = 7000;
const SHORTEST_MILLISECONDS = 1000;
/** While a meter looks for its range it leaves out a few readings. */
const TIMES_AS_LONG = 5;
/** Lines that follow each other in less than half the usual time were held back somewhere and are old. */
const BURST_SHARE = 0.5;
/** The clock of a busy computer can't tell shorter pauses apart. */
const SHORTEST_TOLD_MILLISECONDS = 20;

/** How long to wait for the next line of a meter that talks by itself, learned from the pace it has. */
export class Pace {
  #intervals: number[] = [];
  #last: number | null = null;

  /**
   * @param at when a line came, in milliseconds of a clock that only goes forward
   * @returns whether it came much too early after the one before it, so that both were held back somewhere
   */
  note(at: number): boolean {
    const last = this.#last;
    this.#last = at;
    if (last === null) return false;
    const usual = this.#intervals.toSorted((a, b) => a - b)[this.#intervals.length >> 1] ?? 0;
    const interval = at - last;
    this.#intervals = [...this.#intervals, interval].slice(-INTERVALS_KEPT);
    return usual >= SHORTEST_TOLD_MILLISECONDS && interval < usual * BURST_SHARE;
  }

  /** Silence longer than this is none of the pauses between lines. */
  get silenceMilliseconds(): number {
    if (this.#intervals.length === 0) return FIRST_MILLISECONDS;
    return Math.max(SHORTEST_MILLISECONDS, TIMES_AS_LONG * Math.max(...this.#intervals));
  }
}
