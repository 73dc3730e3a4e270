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

/**
 * Everything that the readings of a run say which count and have a value, how many they are, and these readings in their order along
 * the reel, made when they are asked for: of a long run they take far more room than their values.
 */
export function analysisOfRun(run: Pick<Run, 'readings' | 'window' | 'lot' | 'positions'>): {
  analysis: Analysis;
  count: number;
  readonly valued: readonly Valued[];
} {
  const { values, positions, digit } = columnsOf(run);
  const options = {
    resolution: digit,
    lotSize: run.lot.size,
    positions,
    positionsKnown: positionsAreKnown(run),
  };
  return {
    analysis: analyse(values, limitsOf(run.window), options),
    count: values.length,
    get valued() {
      return valuedOf(run);
    },
  };
}

interface Columns {
  values: Float64Array;
  positions: Float64Array;
  /** See {@link usualDigit}. */
  digit: number | null;
}

/** Values and places of the readings that count and have a value, along the reel. */
function columnsOf({ readings }: Pick<Run, 'readings'>): Columns {
  const [values, positions] = [new Float64Array(readings.size), new Float64Array(readings.size)];
  let count = 0;
  let inOrder = true;
  const digits = new Digits();
  for (const { raw, place, value } of valuedIn({ readings })) {
    digits.add(raw);
    if (count > 0 && place < (positions[count - 1] as number)) inOrder = false;
    values[count] = value;
    // An open piece has no value, but it has its place.
    positions[count] = place;
    count++;
  }
  const columns = { values: values.subarray(0, count), positions: positions.subarray(0, count) };
  const digit = digits.usual;
  if (inOrder) return { ...columns, digit };
  const places = columns.positions;
  const order = Uint32Array.from(places, (_, index) => index);
  order.sort((a, b) => (places[a] as number) - (places[b] as number) || a - b);
  const ordered = (column: Float64Array) => Float64Array.from(order, (index) => column[index] as number);
  return { values: ordered(columns.values), positions: ordered(places), digit };
}

/** The limits of a window for statistics only; verdicts are decided in exact decimals. */
export function limitsOf({ nominal, lower, upper }: Window): Limits {
  const asNumber = (text: string | null) => (text === null ? null : Number(text));
  return { nominal: asNumber(nominal), lower: asNumber(lower), upper: asNumber(upper) };
}

/** The readings that count and have a value, in their order along the reel. */
export function valuedOf(run: Pick<Run, 'readings'>): Valued[] {
  return [...valuedIn(run)].sort((a, b) => a.place - b.place);
}

function* valuedIn({ readings }: Pick<Run, 'readings'>): Generator<Valued> {
  for (const reading of readings) {
    const { piece, raw, ohms } = reading;
    if (!counts(reading) || ohms === null) continue;
    yield { piece, place: placeOf(reading), raw, ohms, value: Number(ohms) };
  }
}

/** What the last digit of most readings is worth; null where it cannot be told. A stray piece may be read on another range. */
export function usualDigit(valued: Iterable<Pick<Valued, 'raw'>>): number | null {
  const digits = new Digits();
  for (const { raw } of valued) digits.add(raw);
  return digits.usual;
}

/** How many readings end at which digit. */
class Digits {
  readonly #times = new Map<string, number>();

  add(raw: string): void {
    const digit = resolutionOfRaw(raw);
    if (digit !== null) this.#times.set(digit, (this.#times.get(digit) ?? 0) + 1);
  }

  get usual(): number | null {
    const [usual] = [...this.#times].sort((a, b) => b[1] - a[1] || Number(b[0]) - Number(a[0]));
    return usual === undefined ? null : Number(usual[0]);
  }
}
