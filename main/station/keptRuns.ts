import { setImmediate } from 'node:timers/promises';
import type { Entry } from '../../core/contract/contract.ts';
import { apply } from '../../core/inspection/apply.ts';
import type { InspectionEvent } from '../../core/inspection/event.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import type { Record } from '../record/record.ts';
import { rowOf } from '../record/runRow.ts';
import { foldOne } from './foldOne.ts';
import type { GoingOn } from './longWorks.ts';

/** A run as it was after the entry at a position of the record. */
export interface At {
  run: Run;
  position: number;
}

/** Readings of all runs that are kept: some hundred megabytes. */
const MOST_READINGS = 2_000_000;
/** What a run counts for beside its readings. */
const READINGS_OF_A_RUN = 500;
/** Entries folded at one go: a few thousandths of a second, and a reading of a meter waits for several of them. */
const AT_ONE_GO = 250;

interface Kept extends At {
  /** Its row in the record is not up to it: only readings were added since. */
  isAhead: boolean;
}

/**
 * The runs of a station: each is made of its entries when it is asked for, and kept while there is room, those that were asked for last
 * the longest. What is added goes the one way through here, so that a run that is kept is the one the record has.
 */
export class KeptRuns {
  readonly #record: Record;
  readonly #isNeeded: (run: number) => boolean;
  readonly #mostReadings: number;
  /** In the order in which they were asked for. */
  readonly #kept = new Map<number, Kept>();
  /** What all of them count for. */
  #readings = 0;

  /** @param isNeeded whether a run must not be let go: somebody works on it who cannot wait for it */
  constructor(record: Record, isNeeded: (run: number) => boolean, mostReadings = MOST_READINGS) {
    this.#record = record;
    this.#isNeeded = isNeeded;
    this.#mostReadings = mostReadings;
  }

  /** Whether a run is there at once. */
  has(number: number): boolean {
    return this.#kept.has(number);
  }

  /** A run that is there at once; it is not kept the longer for that. */
  peek(number: number): Run | undefined {
    return this.#kept.get(number)?.run;
  }

  /** A run as it is now, at one go where it is not kept. @throws problems run-unknown, record-altered */
  now(number: number): At {
    const kept = this.#kept.get(number);
    if (kept) {
      this.#kept.delete(number);
      this.#kept.set(number, kept);
      return kept;
    }
    return this.#keep(number, this.#folded(number, null));
  }

  /** As `now`; null where there is no such run. */
  find(number: number): At | null {
    return this.#kept.has(number) || this.#record.extentOf(number) !== null ? this.now(number) : null;
  }

  /**
   * As `now`, a little at a time, so that others come to their turn. What is added to the run meanwhile is in it.
   * @throws problems run-unknown, record-altered, work-stopped
   */
  async load(number: number, going: Pick<GoingOn, 'tell' | 'throwIfStopped'>): Promise<At> {
    if (this.#kept.has(number)) return this.now(number);
    let run: Run | null = null;
    let position = 0;
    let done = 0;
    for (const entry of this.#record.entries(number)) {
      run = foldOne(run, entry);
      ({ position } = entry);
      done++;
      if (done % AT_ONE_GO !== 0) continue;
      going.tell({ step: 'entries', done, of: this.#record.extentOf(number)?.count ?? done });
      await setImmediate();
      going.throwIfStopped();
      // Somebody who could not wait made it meanwhile.
      if (this.#kept.has(number)) return this.now(number);
    }
    return this.#keep(number, this.#folded(number, run && { run, position }));
  }

  /**
   * Keeps the events of a run in the record, and the run as they make it.
   * @throws problems record-full, record-failed: then nothing was added
   */
  append(number: number, events: readonly InspectionEvent[]): Entry[] {
    const before = this.find(number);
    let run: Run | null = before?.run ?? null;
    for (const event of events) run = apply(run, event);
    if (run === null) return [];
    const isBesideReadings = events.some(({ type }) => type !== 'reading-taken' && type !== 'position-said');
    const row = isBesideReadings ? rowOf(number, run, 0) : null;
    const entries = this.#record.append(number, events, row);
    this.#put(number, { run, position: entries.at(-1)?.position ?? 0, isAhead: row === null });
    return entries;
  }

  /** Brings the rows of runs up to them which only had readings added. Rows can be made again: where there is no room nothing is lost. */
  settle(): void {
    for (const [number, kept] of this.#kept) this.#settle(number, kept);
  }

  #settle(number: number, kept: Kept): void {
    if (!kept.isAhead) return;
    try {
      const row = rowOf(number, kept.run, kept.position);
      if (row) this.#record.rows.keep([row]);
      kept.isAhead = false;
    } catch {
      // The next start makes it.
    }
  }

  #folded(number: number, before: At | null): At {
    let at = before;
    for (const entry of this.#record.entries(number, at?.position ?? 0)) {
      at = { run: foldOne(at?.run ?? null, entry), position: entry.position };
    }
    if (at === null) throw problem('run-unknown', number);
    return at;
  }

  #keep(number: number, at: At): At {
    const kept = { ...at, isAhead: false };
    this.#put(number, kept);
    return kept;
  }

  #put(number: number, kept: Kept): void {
    this.#remove(number);
    this.#kept.set(number, kept);
    this.#readings += weightOf(kept);
    if (this.#readings <= this.#mostReadings) return;
    for (const [other, old] of this.#kept) {
      if (this.#readings <= this.#mostReadings) return;
      if (other === number || this.#isNeeded(other)) continue;
      this.#settle(other, old);
      this.#remove(other);
    }
  }

  #remove(number: number): void {
    const kept = this.#kept.get(number);
    if (kept) this.#readings -= weightOf(kept);
    this.#kept.delete(number);
  }
}

function weightOf({ run }: At): number {
  return run.readings.size + READINGS_OF_A_RUN;
}
