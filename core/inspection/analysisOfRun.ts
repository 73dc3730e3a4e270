import type { DecimalText } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { type Analysis, analyse } from '../statistics/analysis.ts';
import type { Limits } from '../statistics/values.ts';
import type { Window } from '../window/window.ts';
import { positionsAreKnown } from './positionTaken.ts';
import { counts, type Reading, type Run } from './run.ts';

/** A reading that counts and has a value. `place` is where along the reel its piece was, see {@link placeOf}. */
export type Valued = Pick<Reading, 'piece' | 'raw'> & { place: number; ohms: DecimalText; value: number };

/**
 * Where along the reel a piece was, from 1: at its position; where positions are not known its number counts as one, as if
 * pieces were taken one after the other from the reel.
 */
export function placeOf({ position, piece }: Pick<Reading, 'position' | 'piece'>): number {
  return position ?? piece;
}

/** Everything that the readings of a run say which count and have a value, and these readings in their order along the reel. */
export function analysisOfRun(run: Pick<Run, 'readings' | 'window' | 'lot' | 'positions'>): {
  analysis: Analysis;
  valued: readonly Valued[];
} {
  const valued = valuedOf(run);
  const values = Float64Array.from(valued, ({ value }) => value);
  // An open piece has no value, but it has its place.
  const positions = Float64Array.from(valued, ({ place }) => place);
  const options = {
    resolution: usualDigit(valued),
    lotSize: run.lot.size,
    positions,
    positionsKnown: positionsAreKnown(run),
  };
  return { analysis: analyse(values, limitsOf(run.window), options), valued };
}

/** The limits of a window for statistics only; verdicts are decided in exact decimals. */
export function limitsOf({ nominal, lower, upper }: Window): Limits {
  const asNumber = (text: string | null) => (text === null ? null : Number(text));
  return { nominal: asNumber(nominal), lower: asNumber(lower), upper: asNumber(upper) };
}

/** The readings that count and have a value, in their order along the reel. */
export function valuedOf({ readings }: Pick<Run, 'readings'>): Valued[] {
  const valued: Valued[] = [];
  for (const reading of readings) {
    const { piece, raw, ohms } = reading;
    if (!counts(reading) || ohms === null) continue;
    valued.push({ piece, place: placeOf(reading), raw, ohms, value: Number(ohms) });
  }
  return valued.sort((a, b) => a.place - b.place);
}

/** What the last digit of most readings is worth; null where it cannot be told. A stray piece may be read on another range. */
export function usualDigit(valued: readonly Pick<Valued, 'raw'>[]): number | null {
  const times = new Map<string, number>();
  for (const { raw } of valued) {
    const digit = resolutionOfRaw(raw);
    if (digit !== null) times.set(digit, (times.get(digit) ?? 0) + 1);
  }
  const [usual] = [...times].sort((a, b) => b[1] - a[1] || Number(b[0]) - Number(a[0]));
  return usual === undefined ? null : Number(usual[0]);
}
