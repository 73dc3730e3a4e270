import { counts, type Run } from '../../core/inspection/run.ts';
import { type Analysis, analyse } from '../../core/statistics/analysis.ts';
import type { Limits } from '../../core/statistics/values.ts';
import type { Window } from '../../core/window/window.ts';

/** The figures of a lot with the readings they are made of: those that count, in the order of their pieces. */
export interface LotFigures {
  values: readonly number[];
  /** The piece of each value. */
  pieces: readonly number[];
  /** Pieces that showed overload: they have no value and are in no figure but the tally. */
  overloads: readonly number[];
  analysis: Analysis;
}

/** Works out the figures of a run as it stands now. */
export function lotFigures({ readings, window, lot }: Pick<Run, 'readings' | 'window' | 'lot'>): LotFigures {
  const counting = readings.filter(counts).toArray();
  // A piece that was measured again keeps its place on the reel.
  counting.sort((a, b) => a.piece - b.piece);
  const valued = counting.filter(({ ohms }) => ohms !== null);
  const values = valued.map(({ ohms }) => Number(ohms));
  return {
    values,
    pieces: valued.map(({ piece }) => piece),
    overloads: counting.filter(({ ohms }) => ohms === null).map(({ piece }) => piece),
    analysis: analyse(values, limitsOf(window), { lotSize: lot.size }),
  };
}

/** A window as statistics take it. */
export function limitsOf({ nominal, lower, upper }: Window): Limits {
  const numberOf = (text: string | null) => (text === null ? null : Number(text));
  return { nominal: numberOf(nominal), lower: numberOf(lower), upper: numberOf(upper) };
}

/** Which pieces have these values, in order, each once. */
export function piecesWith(
  { values, pieces }: Pick<LotFigures, 'values' | 'pieces'>,
  wanted: readonly number[],
): number[] {
  const set = new Set(wanted);
  return pieces.filter((_, index) => set.has(values[index] as number));
}
