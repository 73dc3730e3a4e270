import { applyContinuity } from '../../core/continuity/apply.ts';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import type { ContinuityEvent } from '../../core/continuity/event.ts';
import type { ContinuityEntry } from '../../core/contract/contract.ts';
import { problem } from '../../core/problem/problem.ts';
import { continuityListed } from '../record/continuityRows.ts';
import type { Record } from '../record/record.ts';
import { foldContinuity, isOfContinuity } from './foldOne.ts';

/** Runs that are kept: of at most a few thousand readings each. */
const MOST_KEPT = 8;

interface Kept {
  run: ContinuityRun;
  position: number;
  /** Its row in the record is not up to it: only readings were added since. */
  isAhead: boolean;
}

/**
 * The continuity runs of a station: each is made of its entries when it is asked for, and kept while it is one of the last few. What is
 * added goes the one way through here, so that a run that is kept is the one the record has.
 */
export class KeptContinuity {
  readonly #record: Record;
  /** In the order in which they were asked for. */
  readonly #kept = new Map<number, Kept>();

  constructor(record: Record) {
    this.#record = record;
  }

  /** A run as it is now. @throws problems run-unknown, continuity-not-such-a-run, record-altered */
  now(number: number): ContinuityRun {
    return this.#at(number).run;
  }

  /** All entries of a run, each checked, and the place of the last. @throws as `now` */
  entries(number: number): ContinuityEntry[] {
    this.#at(number);
    return [...this.#record.entries(number)].filter(isOfContinuity);
  }

  /** Keeps the events of a run in the record, and the run as they make it. @throws problems record-full, record-failed */
  append(number: number, events: readonly ContinuityEvent[]): ContinuityEntry[] {
    let run: ContinuityRun | null = this.#record.extentOf(number) === null ? null : this.now(number);
    for (const event of events) run = applyContinuity(run, event);
    if (run === null || events.length === 0) return [];
    const isBesideReadings = events.some(({ type }) => type !== 'continuity-point-read');
    const row = isBesideReadings ? { ...continuityListed(number, run), upTo: 0 } : null;
    const entries = this.#record.append(number, events, row);
    this.#put(number, { run, position: entries.at(-1)?.position ?? 0, isAhead: row === null });
    return entries;
  }

  /** Runs that are kept, as the list shows them now. */
  peek(number: number): ContinuityRun | undefined {
    return this.#kept.get(number)?.run;
  }

  /** Brings the rows of runs up to them which only had readings added. Rows can be made again: where there is no room nothing is lost. */
  settle(): void {
    for (const [number, kept] of this.#kept) this.#settle(number, kept);
  }

  #settle(number: number, kept: Kept): void {
    if (!kept.isAhead) return;
    try {
      this.#record.continuity.keep([{ ...continuityListed(number, kept.run), upTo: kept.position }]);
      kept.isAhead = false;
    } catch {
      // The next start makes it.
    }
  }

  #at(number: number): Kept {
    const kept = this.#kept.get(number) ?? this.#folded(number);
    this.#put(number, kept);
    return kept;
  }

  #folded(number: number): Kept {
    let run: ContinuityRun | null = null;
    let position = 0;
    for (const entry of this.#record.entries(number)) {
      run = foldContinuity(run, entry);
      ({ position } = entry);
    }
    if (run === null) throw problem('run-unknown', number);
    return { run, position, isAhead: false };
  }

  #put(number: number, kept: Kept): void {
    this.#kept.delete(number);
    this.#kept.set(number, kept);
    for (const [other, old] of this.#kept) {
      if (this.#kept.size <= MOST_KEPT) return;
      this.#settle(other, old);
      this.#kept.delete(other);
    }
  }
}
