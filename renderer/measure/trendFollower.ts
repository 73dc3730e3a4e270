import { limitsOf } from '../../core/inspection/analysisOfRun.ts';
import { type Known, onlyAdded } from '../../core/inspection/onlyAdded.ts';
import { type PackedJudged, type PackedReadings, packed } from '../../core/inspection/packedReadings.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { FromTrend, ToTrend } from './trendWorker.ts';

/** What of a worker is needed. */
export type TrendWorker = Pick<Worker, 'postMessage' | 'terminate' | 'addEventListener'>;

/**
 * Keeps a worker told of the readings of a run: of each once. Only where an earlier one was voided or became suspect they are all
 * told anew. They go over packed, as they are: the screen is not held up by a large run.
 */
export class TrendFollower {
  readonly #worker: TrendWorker;
  #told: Known | null = null;

  /** @param hear called with what the worker finds */
  constructor(worker: TrendWorker, hear: (found: FromTrend) => void) {
    this.#worker = worker;
    worker.addEventListener('message', ({ data }: MessageEvent<FromTrend>) => hear(data));
  }

  /** Tells what is new in the run. */
  follow(run: Pick<Run, 'readings' | 'tally' | 'window' | 'lot'>): void {
    const { readings } = run;
    const before = this.#told !== null && onlyAdded(this.#told, run) ? this.#told.readings.size : 0;
    this.#told = run;
    if (before > 0) {
      const added = packed(readings.slice(before), before);
      if (added.count > 0) this.#post({ kind: 'readings', page: judgedOnly(added) });
      return;
    }
    this.#post({ kind: 'begin', limits: limitsOf(run.window), lotSize: run.lot.size });
    for (const each of readings.pages(0, Number.POSITIVE_INFINITY))
      this.#post({ kind: 'readings', page: judgedOnly(each) });
  }

  end(): void {
    this.#worker.terminate();
  }

  #post(told: ToTrend): void {
    this.#worker.postMessage(told);
  }
}

/** Without what a trend has no use for: that is most of a page. */
function judgedOnly({ from, count, piece, position, ohms, verdict, voided, suspect }: PackedReadings): PackedJudged {
  return { from, count, piece, position, ohms, verdict, voided, suspect };
}
