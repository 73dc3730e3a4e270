import { RunningAnalysis } from '../statistics/runningAnalysis.ts';
import { isRefused, type Limits } from '../statistics/values.ts';
import { type LeavesAt, reelTrend, SIGNIFICANT } from './reelTrend.ts';

/**
 * The trend of a reel while it is measured. Whether there is one is kept up reading by reading, in microseconds; only where one
 * is shown is its slope worked out. A voided reading is not taken back: begin anew without it.
 */
export class RunningTrend {
  #values: number[] = [];
  #places: number[] = [];
  #running = new RunningAnalysis();
  /** Whether all values came in their order along the reel; while not, the running analysis waits. */
  #inOrder = true;

  /**
   * Takes up a reading that counts.
   * @param value in ohms
   * @param place where along the reel its piece was, from 1; most often beyond all that came before
   */
  add(value: number, place: number): void {
    const last = this.#places.at(-1);
    if (last !== undefined && place < last) this.#inOrder = false;
    this.#values.push(value);
    this.#places.push(place);
    if (this.#inOrder) this.#running.add(value);
  }

  /**
   * Where the trend of the values leaves the window within the lot; null while none is shown that does.
   * @param limits of the window, in ohms
   * @param lotSize pieces on the reel
   */
  leavesAt(limits: Limits, lotSize: number): LeavesAt | null {
    if (!this.#inOrder) this.#order();
    const mannKendall = this.#running.mannKendall();
    const summary = this.#running.summary();
    if (isRefused(mannKendall) || isRefused(summary) || mannKendall.p >= SIGNIFICANT) return null;
    const movingRange = this.#running.movingRange();
    const along = { inOrder: this.#values, mean: summary.mean, movingRange, mannKendall, limits, lotSize };
    return reelTrend({ ...along, positions: this.#places, positionsKnown: true }).leavesAt;
  }

  /** A piece that was measured again, or taken further back, came after others: all begins anew in the order along the reel. */
  #order(): void {
    const order = Array.from(this.#places.keys()).sort(
      (a, b) => (this.#places[a] as number) - (this.#places[b] as number),
    );
    this.#values = order.map((index) => this.#values[index] as number);
    this.#places = order.map((index) => this.#places[index] as number);
    this.#running = new RunningAnalysis();
    for (const value of this.#values) this.#running.add(value);
    this.#inOrder = true;
  }
}
