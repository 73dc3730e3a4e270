/**
 * What changes many times a second: the latest of it, and who wants to hear of each change. Screens take from it what they
 * show and nothing else is drawn anew.
 */
export class Feed<T> {
  #latest: T | null = null;
  readonly #listeners = new Set<() => void>();

  /** The latest; null before the first, and while the station is away. */
  get latest(): T | null {
    return this.#latest;
  }

  tell(now: T | null): void {
    this.#latest = now;
    for (const hear of this.#listeners) hear();
  }

  /** Calls back after each change; returns how to stop. */
  readonly listen = (hear: () => void): (() => void) => {
    this.#listeners.add(hear);
    return () => this.#listeners.delete(hear);
  };
}
