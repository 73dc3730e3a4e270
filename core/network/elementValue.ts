import { Problem, problem } from '../problem/problem.ts';
import { plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import { parseTolerance } from '../window/parseTolerance.ts';
import { type Tolerance, windowOf } from '../window/window.ts';
import type { Resistor } from './network.ts';

/** Value and tolerance, the value being as many of the words as make one: "4.7 k 1 %" is written with blanks too. */
export function valueIn(words: readonly string[], usual: Tolerance | null): Pick<Resistor, 'ohms' | 'tolerance'> {
  for (let count = Math.min(words.length, 3); ; count--) {
    try {
      const ohms = parseOhms(words.slice(0, count).join(' '));
      const rest = words.slice(count).join(' ');
      const tolerance = rest === '' ? usual : parseTolerance(rest);
      if (tolerance !== null) windowOf(ohms, tolerance);
      return { ohms: plain(ohms), tolerance };
    } catch (thrown) {
      if (count <= 1) throw thrown;
    }
  }
}

/** What is wrong with a value is told of its line. */
export function heldAt<T>(line: number, read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    if (thrown instanceof Problem) throw problem('network-unreadable', line, thrown.what);
    throw thrown;
  }
}
