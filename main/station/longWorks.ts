import type { News } from '../../core/contract/contract.ts';
import { Problem, problem } from '../../core/problem/problem.ts';
import type { Going } from '../aside/doAside.ts';

/** Work that goes on: it tells how far it is, and asks before it changes anything whether it was stopped. */
export interface GoingOn extends Going {
  /** @throws problem work-stopped */
  throwIfStopped(): void;
}

/** Work of a station that may take its time: told to everybody as it goes on, stopped by whoever knows its name. */
export class LongWorks {
  readonly #goingOn = new Map<string | symbol, { stopping: AbortController; done: Promise<unknown> }>();
  readonly #tell: (news: News) => void;

  constructor(tell: (news: News) => void) {
    this.#tell = tell;
  }

  /**
   * Begins work. What is stopped ends with the problem work-stopped and has changed nothing.
   * @param work its name, chosen by whoever asks for it; without one nobody hears how far it is
   * @throws problems work-under-way where work of that name goes on, work-stopped, and those of the work
   */
  async begin<T>(work: string | undefined, what: (going: GoingOn) => Promise<T>): Promise<T> {
    const key = work ?? Symbol('work without a name');
    if (this.#goingOn.has(key)) throw problem('work-under-way');
    const stopping = new AbortController();
    const { signal } = stopping;
    const done = what({
      signal,
      tell: (progress) => {
        if (work !== undefined && !signal.aborted) this.#tell({ kind: 'work', work, progress });
      },
      throwIfStopped: () => {
        if (signal.aborted) throw problem('work-stopped');
      },
    });
    this.#goingOn.set(key, { stopping, done });
    let stopped = false;
    try {
      return await done;
    } catch (thrown) {
      stopped = thrown instanceof Problem && thrown.code === 'work-stopped';
      throw thrown;
    } finally {
      this.#goingOn.delete(key);
      if (work !== undefined) this.#tell({ kind: 'work', work, progress: null, stopped });
    }
  }

  /** Stops the work of that name. Work that is over, or is writing down what it has made, ends as it is. */
  stop(work: string): void {
    this.#goingOn.get(work)?.stopping.abort();
  }

  /** Stops all work, and resolves when it has ended. */
  async stopAll(): Promise<void> {
    const all = [...this.#goingOn.values()];
    for (const { stopping } of all) stopping.abort();
    await Promise.allSettled(all.map(({ done }) => done));
  }
}
