import type Database from 'better-sqlite3';
import { problem } from '../../core/problem/problem.ts';
import { BETWEEN_TELLINGS, type TellProgress } from '../../core/progress/progress.ts';
import { entryRows, type Follows, THE_START } from './entryRows.ts';
import { markOf, setMark } from './marks.ts';

/** So many entries are checked at a start at most: less than a second. A record that has no more is checked whole each time. */
const MOST_AT_START = 50_000;

/**
 * Checks the chain of a record from where it was checked last to its end, a little at a time; of more than 50 000 entries the
 * last ones only. What lies between is checked when somebody asks for the whole, and each entry when its run is opened.
 * @param end the last entry @throws problem record-altered at the first entry that does not fit
 */
export function* checkingTail(
  database: Database.Database,
  end: Follows,
  tell: TellProgress,
): Generator<undefined, void> {
  const checked = markOf(database, 'checked') ?? THE_START;
  const begin = end.position <= MOST_AT_START ? THE_START : checked;
  const after = end.position - begin.position > MOST_AT_START ? null : begin;
  const from = after === null ? end.position - MOST_AT_START + 1 : after.position + 1;
  const of = end.position - from + 1;
  const places = new StretchPlaces(database, after);
  let done = 0;
  for (const row of entryRows(database, { from, upTo: end.position, after })) {
    places.mustBegin(row);
    done++;
    if (done % BETWEEN_TELLINGS !== 0) continue;
    tell({ step: 'entries', done, of });
    yield;
  }
  if (after === null || end.position <= checked.position) return;
  try {
    setMark(database, 'checked', end);
  } catch {
    // A full disk: the next start begins where this one did.
  }
}

/** Whether stretches begin where another run goes on, and nowhere else: by them the entries of a run are found. */
export class StretchPlaces {
  readonly #at: Database.Statement<[number], number>;
  /** Undefined before the first entry that is looked at, where one came before it. */
  #run: number | undefined;

  /** @param after what the first entry follows; null where that is not known */
  constructor(database: Database.Database, after: Follows | null) {
    this.#at = database.prepare<[number], number>('SELECT run FROM stretch WHERE first = ?').pluck();
    if (after?.position === 0) this.#run = 0;
  }

  /** @throws problem record-altered */
  mustBegin({ position, run }: { position: number; run: number }): void {
    const begun = this.#at.get(position);
    const wanted = run === this.#run ? undefined : run;
    // Of the first that is looked at it is not known whether another run came before.
    if (begun !== wanted && !(this.#run === undefined && begun === undefined))
      throw problem('record-altered', position);
    this.#run = run;
  }
}
