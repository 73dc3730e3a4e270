import { addedSince } from '../../core/inspection/addedSince.ts';
import { limitsOf, placeOf } from '../../core/inspection/analysisOfRun.ts';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import type { FromTrend, ToTrend } from './trendWorker.ts';

type Followed = Pick<Run, 'readings' | 'tally' | 'window' | 'lot'>;

/** What of a worker is needed. */
export type TrendWorker = Pick<Worker, 'postMessage' | 'terminate' | 'addEventListener'>;

/** So many readings go over in one task; a large run goes over in several, so that the screen is never held up. */
const READINGS_OF_A_TASK = 20_000;

/**
 * Keeps a worker told of the readings of a run that count: of each once. Only where an earlier one was voided or became suspect
 * they are all told anew.
 */
export class TrendFollower {
  readonly #worker: TrendWorker;
  #wanted: Followed | null = null;
  #told: Followed | null = null;
  #isTelling = false;
  #ended = false;

  /** @param hear called with what the worker finds */
  constructor(worker: TrendWorker, hear: (found: FromTrend) => void) {
    this.#worker = worker;
    worker.addEventListener('message', ({ data }: MessageEvent<FromTrend>) => hear(data));
  }

  /** Tells what is new in the run. */
  follow(run: Followed): void {
    this.#wanted = run;
    if (!this.#isTelling) void this.#tell();
  }

  end(): void {
    this.#ended = true;
    this.#worker.terminate();
  }

  async #tell(): Promise<void> {
    this.#isTelling = true;
    while (this.#wanted && this.#wanted !== this.#told && !this.#ended) {
      const run = this.#wanted;
      const added = this.#told && addedSince(this.#told, run);
      if (!added) this.#post({ kind: 'begin', limits: limitsOf(run.window), lotSize: run.lot.size });
      const { readings } = run;
      for (let from = added ? (this.#told?.readings.size ?? 0) : 0; from < readings.size; from += READINGS_OF_A_TASK) {
        this.#post(message(readings.slice(from, from + READINGS_OF_A_TASK)));
        if (readings.size - from <= READINGS_OF_A_TASK) break;
        await new Promise((resolve) => setTimeout(resolve));
        if (this.#ended) return;
      }
      this.#told = run;
    }
    this.#isTelling = false;
  }

  #post(told: ToTrend): void {
    this.#worker.postMessage(told);
  }
}

function message(readings: Iterable<Reading>): ToTrend {
  const [values, places]: [number[], number[]] = [[], []];
  for (const reading of readings) {
    if (!counts(reading) || reading.ohms === null) continue;
    values.push(Number(reading.ohms));
    places.push(placeOf(reading));
  }
  return { kind: 'readings', values: Float64Array.from(values), places: Float64Array.from(places) };
}
