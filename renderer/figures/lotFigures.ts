import { analysisOfRun } from '../../core/inspection/analysisOfRun.ts';
import { counts, type Run } from '../../core/inspection/run.ts';
import type { Analysis } from '../../core/statistics/analysis.ts';

/** The figures of a lot with the readings they are made of: those that count, in their order along the reel. */
export interface LotFigures {
  values: readonly number[];
  /** The piece of each value. */
  pieces: readonly number[];
  /** Where along the reel that piece was; its number where positions are not known. */
  places: readonly number[];
  /** Pieces that showed overload: they have no value and are in no figure but the tally. */
  overloads: readonly number[];
  analysis: Analysis;
}

/** Works out the figures of a run as it stands now: the same that its certificate gives. */
export function lotFigures(run: Pick<Run, 'readings' | 'window' | 'lot' | 'positions'>): LotFigures {
  const { analysis, valued } = analysisOfRun(run);
  const overloads = Array.from(run.readings.judged()).filter((one) => counts(one) && one.ohms === null);
  return {
    values: valued.map(({ value }) => value),
    pieces: valued.map(({ piece }) => piece),
    places: valued.map(({ place }) => place),
    overloads: overloads.map(({ piece }) => piece).sort((a, b) => a - b),
    analysis,
  };
}

/** Which pieces have these values, lowest number first, each once. */
export function piecesWith(
  { values, pieces }: Pick<LotFigures, 'values' | 'pieces'>,
  wanted: readonly number[],
): number[] {
  const set = new Set(wanted);
  return pieces.filter((_, index) => set.has(values[index] as number)).sort((a, b) => a - b);
}
