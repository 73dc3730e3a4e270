import { setTimeout as wait } from 'node:timers/promises';

/** The clock on the wall of the bench, by which hands move while the meter measures. */
export interface Clock {
  /** Milliseconds since some beginning; never goes back. */
  now(): number;
  /** Resolves when so many milliseconds have passed on this clock. */
  wait(milliseconds: number): Promise<void>;
}

/** The time that everybody has. */
export const realClock: Clock = {
  now: () => performance.now(),
  wait: (milliseconds) => wait(milliseconds),
};

/** A time of its own that passes only where something on the bench takes time, so that no test has to wait for it. */
export function clockOfItsOwn(): Clock {
  let passed = 0;
  return {
    now: () => passed,
    wait: async (milliseconds) => {
      passed += milliseconds;
    },
  };
}
