import { RunningAnalysis } from '../statistics/runningAnalysis.ts';
import { isRefused, type Limits } from '../statistics/values.ts';
import { type LeavesAt, reelTrend, SIGNIFICANT } from './reelTrend.ts';

/**
 * The trend of a reel while it is measured. Whether there is one is kept up reading by reading, in microseconds; only where one
 * is shown is its slope worked out.
 */
export class RunningTrend {
  readonly #values: number[] = [];
  #running = new RunningAnalysis();

  /**
   * Where the trend of these values leaves the window within the lot; null while none is shown that does.
   * @param values all that count, in order: most often those of the last time and a few more
   * @param pieces their numbers, rising
   */
  leavesAt(values: readonly number[], pieces: readonly number[], limits: Limits, lotSize: number): LeavesAt | null {
    this.#takeUp(values);
    const mannKendall = this.#running.mannKendall();
    const summary = this.#running.summary();
    if (isRefused(mannKendall) || isRefused(summary) || mannKendall.p >= SIGNIFICANT) return null;
    const movingRange = this.#running.movingRange();
    const { mean } = summary;
    return reelTrend({ inOrder: values, mean, movingRange, mannKendall, limits, positions: pieces, lotSize }).leavesAt;
  }

  #takeUp(values: readonly number[]): void {
    const known = this.#values;
    // A voided reading, or a piece measured again: begin anew.
    if (known.length > values.length || known.some((value, index) => value !== values[index])) {
      this.#running = new RunningAnalysis();
      known.length = 0;
    }
    for (let index = known.length; index < values.length; index++) {
      const value = values[index] as number;
      this.#running.add(value);
      known.push(value);
    }
  }
}
