import type { Conditions } from './conditions.ts';
import { normalAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';

const FINGERS_KEY = 16;
/** How much a person's path differs from touch to touch, as the standard deviation of its logarithm. Invented. */
const FINGERS_SPREAD = 0.35;

/**
 * What is seen of a piece with what is beside it, in ohms; null where nothing conducts: the rest of its circuit while it is in one, and
 * a person who holds both tips (resistors side by side: product over sum).
 * @param own the piece alone, null where it is open; @param earlier how often the probes were put there before
 */
export function withBeside(
  { seed, circuit, fingersOhms }: BenchScenario,
  { inCircuit, fingers }: Pick<Conditions, 'inCircuit' | 'fingers'>,
  piece: number,
  own: number | null,
  earlier: number,
): number | null {
  const read = inCircuit ? circuit?.reads[piece - 1] : undefined;
  if (read !== undefined) return read;
  const paths = [
    own,
    inCircuit ? (circuit?.besideOhms ?? null) : null,
    fingers && fingersOhms !== null
      ? fingersOhms * Math.exp(FINGERS_SPREAD * normalAt(seed, FINGERS_KEY, piece, earlier))
      : null,
  ].filter((ohms) => ohms !== null);
  if (paths.length === 0) return null;
  // Nothing beside a dead short makes it less.
  return paths.includes(0) ? 0 : 1 / paths.reduce((sum, ohms) => sum + 1 / ohms, 0);
}
