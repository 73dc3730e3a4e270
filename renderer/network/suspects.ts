import type { Explanation } from '../../core/network/explanations.ts';
import { ohmsOrOpen } from './networkFigures.ts';

/** The resistors to look at first: of the best explanation, and of those that would read the very same. */
export function suspectsOf(explanations: readonly Explanation[]): Map<string, string> {
  const [best] = explanations;
  if (!best || best.what === 'good') return new Map();
  const same = explanations.filter(({ ohms }) => ohms === best.ohms || Math.abs(ohms - best.ohms) <= 1e-9 * best.ohms);
  const suspects = new Map<string, string>();
  for (const { name, what, is } of same) {
    if (name === null || suspects.has(name)) continue;
    suspects.set(name, what === 'other value' ? `${ohmsOrOpen(is ?? 0)}?` : `${what}?`);
  }
  return suspects;
}
