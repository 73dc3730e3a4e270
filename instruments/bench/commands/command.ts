import type { Bench } from '../bench.ts';
import type { FunctionName } from '../functions.ts';
import type { Parameter } from '../grammar.ts';

/** One thing the simulated meter understands. */
export interface Command {
  /** As `spellings` reads it; with a question mark for a query. */
  header: string;
  /** How many parameters it takes, at least and at most. */
  parameters: readonly [number, number];
  /** Understood only by a meter that has this function. */
  needs?: FunctionName;
  /** Does it. A query returns its answer. */
  run: (bench: Bench, parameters: Parameter[]) => string | undefined | Promise<string>;
}
