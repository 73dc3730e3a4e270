import type { Answers } from '../../core/contract/contract.ts';
import type { PackedReadings } from '../../core/inspection/packedReadings.ts';
import { packHead } from '../../core/inspection/packedRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import type { Record } from '../record/record.ts';
import { foldOne } from './foldOne.ts';
import type { At } from './keptRuns.ts';

/** More screens than this seldom open runs at the same time. */
const MOST_KEPT = 4;
/** Pages of one answer: the station is not held up longer than about 30 ms, and the screen not longer than 10. */
const PAGES_AT_ONCE = 16;

/**
 * Runs that are being opened, some pages at a time. A run may go on meanwhile, but all pages of one opening are of the run as it was when it
 * was opened. Runs never change, so that keeping one as it was costs next to nothing.
 */
export class OpenedRuns {
  readonly #kept = new Map<string, Run>();
  readonly #record: Pick<Record, 'entries'>;
  readonly #now: (run: number) => At;

  /** @param now the run as it is now. @throws problem run-unknown */
  constructor(record: Pick<Record, 'entries'>, now: (run: number) => At) {
    this.#record = record;
    this.#now = now;
  }

  /** @throws problem run-unknown */
  open(number: number): Answers['open-run'] {
    const { run, position } = this.#now(number);
    const pages = run.readings.pages(0, PAGES_AT_ONCE);
    const last = pages.at(-1);
    if (last && last.from + last.count < run.readings.size) this.#keep(number, { run, position });
    return { position, head: packHead(run), pages };
  }

  /** @throws problems run-unknown, input-invalid of a position the run was never at */
  pages(number: number, position: number, from: number): PackedReadings[] {
    const run = this.#kept.get(nameOf(number, position)) ?? this.#keep(number, this.#runAt(number, position));
    return run.readings.pages(from, PAGES_AT_ONCE);
  }

  #keep(number: number, { run, position }: At): Run {
    this.#kept.set(nameOf(number, position), run);
    for (const oldest of this.#kept.keys()) {
      if (this.#kept.size <= MOST_KEPT) break;
      this.#kept.delete(oldest);
    }
    return run;
  }

  /** Where it is kept no more, the record makes it again. */
  #runAt(number: number, position: number): At {
    const now = this.#now(number);
    if (now.position === position) return now;
    let run: Run | null = null;
    let reached = 0;
    for (const entry of this.#record.entries(number)) {
      if (entry.position > position) break;
      run = foldOne(run, entry);
      reached = entry.position;
    }
    if (run === null || reached !== position) throw problem('input-invalid', 'position', 'not of this run');
    return { run, position };
  }
}

function nameOf(number: number, position: number): string {
  return `${number} ${position}`;
}
