import type Database from 'better-sqlite3';

/** Entries of one run that stand one behind the other. */
export interface Stretch {
  first: number;
  last: number;
}

/**
 * Where the entries of each run stand. A row is written only when another run goes on than the one before, so a reading is one
 * insert and yet no run has to be looked for.
 */
export class Stretches {
  readonly #ofRun: Database.Statement<[number], { first: number; next: number | null }>;
  readonly #begin: Database.Statement<[first: number, run: number]>;
  /** The run that the last entry is of; 0 of an empty record. */
  #goingOn: number;
  #lastRun: number;

  constructor(database: Database.Database) {
    this.#ofRun = database.prepare(
      'SELECT first, (SELECT min(n.first) FROM stretch n WHERE n.first > s.first) AS next FROM stretch s WHERE run = ? ORDER BY first',
    );
    this.#begin = database.prepare('INSERT INTO stretch (first, run) VALUES (?, ?)');
    const newest = database.prepare('SELECT run FROM stretch ORDER BY first DESC LIMIT 1').pluck().get();
    this.#goingOn = (newest as number | undefined) ?? 0;
    this.#lastRun = (database.prepare('SELECT max(run) FROM stretch').pluck().get() as number | null) ?? 0;
  }

  /** The greatest number of a run. */
  get lastRun(): number {
    return this.#lastRun;
  }

  /** To be called in the transaction that adds entries of a run from a place on. */
  goOn(run: number, first: number): void {
    if (run !== this.#goingOn) this.#begin.run(first, run);
  }

  /** To be called when that transaction is on the disk. */
  kept(run: number): void {
    this.#goingOn = run;
    this.#lastRun = Math.max(this.#lastRun, run);
  }

  /** Those of a run in order. @param end place of the last entry of the record */
  of(run: number, end: number): Stretch[] {
    return this.#ofRun.all(run).map(({ first, next }) => ({ first, last: next === null ? end : next - 1 }));
  }
}
