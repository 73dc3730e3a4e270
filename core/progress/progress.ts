/** What long work counts as it goes on; each step of it counts anew. */
export type ProgressStep =
  /** Entries of the record that are checked, read or written down. */
  | 'entries'
  /** Readings that are taken for a check, or put down on a certificate. */
  | 'readings'
  /** Groups of figures that are worked out. */
  | 'figures'
  /** Rows that are written or read. */
  | 'rows-written'
  | 'rows-read'
  /** Lots that are compared. */
  | 'lots'
  /** Pages of the record's file that are copied. */
  | 'pages';

/** How far long work is: so many of so many. */
export interface Progress {
  step: ProgressStep;
  done: number;
  of: number;
}

/** Told now and then by work that may take its time. What it throws ends the work. */
export type TellProgress = (progress: Progress) => void;

/** For whoever does not want to know. */
export const TELL_NOBODY: TellProgress = () => undefined;

/** So many rows or readings go by between two tellings: a few hundredths of a second. */
export const BETWEEN_TELLINGS = 1000;

/** The same things one by one; it is told of them now and then, and of the last. */
export function* counting<T>(
  things: Iterable<T>,
  { step, of }: Omit<Progress, 'done'>,
  tell: TellProgress,
): Generator<T> {
  let done = 0;
  for (const thing of things) {
    yield thing;
    done++;
    if (done % BETWEEN_TELLINGS === 0 || done === of) tell({ step, done, of });
  }
}
