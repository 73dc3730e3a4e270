import type { Duplex } from 'node:stream';
import type { Acquired } from './acquired.ts';
import type { Bench } from './bench.ts';
import type { Command } from './commands/command.ts';
import type { FunctionName } from './functions.ts';

/** How the simulated meter behaves where meters differ. `plain` is the one all others are told apart from. */
export interface Manner {
  /** Everything it understands. */
  commands: readonly Command[];
  /** What it can measure, unless the scenario takes some of it away. */
  functions: readonly FunctionName[];
  /** Integration time it begins with, in power-line cycles; null for the usual one of each function. */
  usualCycles: number | null;
  /** How it writes a reading. */
  readingText: (acquired: Acquired) => string;
  /** Looks at a message before anything of it is done. @throws {ScpiError} for one it refuses whole */
  admitMessage: (message: string) => void;
  /** Looks at one command, by its full header in capitals. @throws {ScpiError} for one it refuses */
  admitCommand: (bench: Bench, header: string) => void;
  /** Serves a line until that ends; null for a meter that answers messages. */
  serve: ((duplex: Duplex, bench: Bench) => Promise<void>) | null;
}
