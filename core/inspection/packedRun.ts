import { Map as ImmutableMap, List } from 'immutable';
import type { PackedReadings } from './packedReadings.ts';
import { positionsAreKnown } from './positionTaken.ts';
import { Readings } from './readings.ts';
import { counts, type Happening, type Run } from './run.ts';

/** A run without its readings: plain data, which JSON carries as it is. */
export interface PackedHead extends Omit<Run, 'readings' | 'history' | 'taken'> {
  history: Happening[];
  /** How many readings follow in pages. */
  readingCount: number;
}

/** A run as plain data. */
export interface PackedRun {
  head: PackedHead;
  /** All its pages in order. */
  pages: readonly PackedReadings[];
}

/** The whole run; all but its latest readings are packed already. */
export function packRun(run: Run): PackedRun {
  return { head: packHead(run), pages: run.readings.pages(0, Number.POSITIVE_INFINITY) };
}

/** The run without its readings. */
export function packHead(run: Run): PackedHead {
  const { readings, history, taken, ...facts } = run;
  return { ...facts, history: history.toArray(), readingCount: readings.size };
}

/** The run as it was packed. @throws Error where pages are missing or in disorder */
export function unpackRun({ head, pages }: PackedRun): Run {
  const { readingCount, history, ...facts } = head;
  const readings = Readings.ofPages(pages);
  if (readings.size !== readingCount) throw new Error(`${readings.size} of ${readingCount} readings are there`);
  return {
    ...facts,
    history: List(history),
    readings,
    taken: positionsAreKnown(head) ? takenOf(readings) : ImmutableMap(),
  };
}

/** Where along the reel pieces were taken whose reading counts. */
function takenOf(readings: Readings): Run['taken'] {
  return ImmutableMap<number, number>().withMutations((taken) => {
    for (const one of readings.judged()) {
      if (one.position !== null && counts(one)) taken.set(one.position, one.piece);
    }
  });
}
