import { Thinned } from '../../core/chart/thinned.ts';
import { onlyAdded } from '../../core/inspection/onlyAdded.ts';
import type { Judged } from '../../core/inspection/packedReadings.ts';
import { counts, type Run } from '../../core/inspection/run.ts';
import type { FittedNormal } from '../../core/statistics/expectedCount.ts';
import { RunningSummary } from '../../core/statistics/runningSummary.ts';
import { isRefused } from '../../core/statistics/values.ts';
import { conforms } from '../../core/window/judge.ts';
import { type Standing, standingOf } from '../verdict/verdictWords.ts';
import { type WindowScale, windowScale } from '../windowBar/windowScale.ts';
import { BinCounts } from './histogramBins.ts';

type Followed = Pick<Run, 'readings' | 'tally' | 'window'>;

/** So many readings are taken in at once: a larger run is taken in piece by piece, so that the screen is never held up. */
const AT_ONCE = 65_536;

/** Only what does not conform and what is suspect carries a mark: the rest is where it should be. */
export function isMarked(standing: Standing): boolean {
  return standing === 'suspect' || !conforms(standing);
}

/**
 * What the charts of a run are drawn from. It goes on with the run: a reading more is added to what is there. Where an earlier
 * reading changed (void, suspect) another one must be begun.
 */
export class RunSeries {
  /** Readings that are not void at their places from 1, in ohms; an overload lies beyond all others. */
  readonly line: Thinned;
  /** Readings that count, in bins. */
  readonly bins: BinCounts;
  /** How many of the readings that are not void do not conform, and how many are suspect. */
  nonconforming = 0;
  suspect = 0;
  /** Readings of the run that are taken in, void ones too. */
  taken = 0;
  /** Grows with each change. */
  version = 0;
  readonly #scale: WindowScale;
  readonly #within = new RunningSummary();
  readonly #standings: Standing[] = [];
  readonly #readings: number[] = [];
  /** The run as it was taken in last. */
  #run: Followed;

  /** Begins with none of the readings of a run. */
  constructor(run: Followed) {
    this.#run = run;
    this.#scale = windowScale(run.window);
    this.line = new Thinned(run.readings.size);
    this.bins = new BinCounts(this.#scale);
  }

  /** Whether a run is the one that was taken in last, with nothing but readings more. */
  goesOn(run: Followed): boolean {
    return run.window === this.#run.window && onlyAdded(this.#run, run);
  }

  /** Takes in what is new in the run, a good part of it; false while there is more. @param run of which {@link goesOn} is true */
  takeIn(run: Followed): boolean {
    this.#run = run;
    const { readings } = run;
    const end = Math.min(readings.size, this.taken + AT_ONCE);
    if (end > this.taken) this.version++;
    for (const reading of readings.judged(this.taken, end)) this.#add(reading);
    this.taken = end;
    return end === readings.size;
  }

  /** How the reading at a place of the line stands, from 0. */
  standingAt(place: number): Standing {
    return this.#standings[place] as Standing;
  }

  /** Number of the reading at a place of the line, from 0. */
  readingAt(place: number): number {
    return this.#readings[place] as number;
  }

  /** Of the readings that count and lie within the picture; null where they have no spread. */
  fitted(): FittedNormal | null {
    const summary = this.#within.summary();
    if (isRefused(summary) || !summary.standardDeviation) return null;
    return { mean: summary.mean, standardDeviation: summary.standardDeviation, n: summary.n };
  }

  #add(reading: Judged): void {
    if (reading.voided) return;
    const ohms = reading.ohms === null ? Number.POSITIVE_INFINITY : Number(reading.ohms);
    const standing = standingOf(reading);
    this.#standings.push(standing);
    this.#readings.push(reading.reading);
    this.line.append(this.#standings.length, ohms, isMarked(standing));
    if (standing === 'suspect') this.suspect++;
    else if (isMarked(standing)) this.nonconforming++;
    if (!counts(reading)) return;
    this.bins.add(ohms);
    if (ohms >= this.#scale.from && ohms <= this.#scale.to) this.#within.add(ohms);
  }
}
