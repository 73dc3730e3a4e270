import { fuzzLines } from './fuzzLines.ts';
import { fuzzMessages } from './fuzzMessages.ts';
import { fuzzNumbers } from './fuzzNumbers.ts';
import { seededRandom } from './seededRandom.ts';

/** What came of inputs made up at random. */
export interface Fuzzed {
  tried: number;
  /** How many were taken for good; a fuzz that accepts nothing shows nothing. */
  accepted: number;
  /** Inputs that were read wrongly, with what was wrong. */
  faults: string[];
}

/** Of so many inputs these shares go to each parser; a stream of bytes costs most time. */
const SHARES = { numbers: 0.75, messages: 0.2, lines: 0.05 };

/** Fuzzes what reads a meter's bytes: lines, fields of a message, numbers. */
export async function fuzzAll(seed: number, count: number): Promise<Record<keyof typeof SHARES, Fuzzed>> {
  const share = (of: keyof typeof SHARES) => Math.ceil(count * SHARES[of]);
  return {
    numbers: fuzzNumbers(seededRandom(seed, 1), share('numbers')),
    messages: fuzzMessages(seededRandom(seed, 2), share('messages')),
    lines: await fuzzLines(seededRandom(seed, 3), share('lines')),
  };
}
