import type { TestContext } from 'vitest';

/** Skips a test and prints why, since a report may leave the reason out. */
export function skipSaying(test: TestContext, reason: string): never {
  console.warn(`SKIPPED: ${test.task.name}: ${reason}`);
  test.skip(reason);
  throw new Error('a skipped test goes no further');
}
