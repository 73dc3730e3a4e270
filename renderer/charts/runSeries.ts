import { Thinned } from '../../core/chart/thinned.ts';
import { addedSince } from '../../core/inspection/addedSince.ts';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import type { FittedNormal } from '../../core/statistics/expectedCount.ts';
import { RunningSummary } from '../../core/statistics/runningSummary.ts';
import { isRefused } from '../../core/statistics/values.ts';
import { conforms } from '../../core/window/judge.ts';
import type { Window } from '../../core/window/window.ts';
import { type Standing, standingOf } from '../verdict/verdictWords.ts';
import { type WindowScale, windowScale } from '../windowBar/windowScale.ts';
import { BinCounts } from './histogramBins.ts';

type Known = Pick<Run, 'readings' | 'tally'>;

/** So many readings are taken in at once: a larger run is taken in piece by piece, so that the screen is never held up. */
const AT_ONCE = 40_000;

/** Only what does not conform and what is suspect carries a mark: the rest is where it should be. */
export function isMarked(standing: Standing): boolean {
  return standing === 'suspect' || !conforms(standing);
}

/**
 * What the charts of a run are drawn from. It follows the run: a reading more is added to what is there; only where an earlier
 * reading changed (void, suspect) is it made anew.
 */
export class RunSeries {
  /** Readings that are not void at their places from 1, in ohms; an overload lies beyond all others. */
  line = new Thinned();
  /** Readings that count, in bins. */
  bins: BinCounts;
  /** How many of the readings that are not void do not conform, and how many are suspect. */
  nonconforming = 0;
  suspect = 0;
  /** Readings of the run that are taken in, void ones too. */
  taken = 0;
  /** Grows with each change. */
  version = 0;
  readonly #scale: WindowScale;
  #within = new RunningSummary();
  #standings: Standing[] = [];
  #readings: number[] = [];
  /** What was taken in, as it was then. */
  #before: Known | null = null;

  constructor(window: Window) {
    this.#scale = windowScale(window);
    this.bins = new BinCounts(this.#scale);
  }

  /** Takes in what is new in the run, a good part of it; false while there is more. */
  follow({ readings, tally }: Known): boolean {
    const before = this.#before;
    const same =
      before !== null &&
      before.readings.first() === readings.first() &&
      addedSince(before, { readings, tally }) !== null;
    if (!same) this.#begin();
    const end = Math.min(readings.size, this.taken + AT_ONCE);
    this.#before = { readings: readings.slice(0, end), tally };
    if (!same || end > this.taken) this.version++;
    for (const reading of readings.slice(this.taken, end)) this.#add(reading);
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

  #begin(): void {
    this.line = new Thinned();
    this.bins = new BinCounts(this.#scale);
    this.nonconforming = this.suspect = this.taken = 0;
    this.#within = new RunningSummary();
    this.#standings = [];
    this.#readings = [];
  }

  #add(reading: Reading): void {
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
