import { problem } from '../problem/problem.ts';
import { mostPieces } from '../sampling/plan.ts';
import { isAskedFor, positionOf } from '../sampling/positions.ts';
import type { Run } from './run.ts';

type Taking = Pick<Run, 'positions' | 'lot' | 'plan' | 'taken' | 'said' | 'again' | 'readings'>;

/** Whether it is known of each reading where along the reel its piece was taken: of all of a run, or of none. */
export function positionsAreKnown({ positions }: Pick<Run, 'positions'>): boolean {
  return positions.kind !== 'as-taken';
}

/**
 * Where along the reel a piece that is to be measured now is taken: where somebody says, else where it is asked for; null where
 * positions are not known. A piece that
 * is measured again keeps its position; otherwise it is the one drawn for it. Where another piece was taken from there, it is
 * the nearest one that is left and that no piece of the sample is asked for at, the later one of two as near.
 * @param piece the next piece
 */
export function positionToTake(run: Taking, piece: number): number | null {
  if (!positionsAreKnown(run)) return null;
  if (run.said?.piece === piece) return run.said.position;
  const wanted = earlierPosition(run, piece) ?? positionOf(run, piece);
  if (wanted === null || !run.taken.has(wanted)) return wanted;
  const others = mostPieces(run.plan) < run.lot.size ? nearest(run, wanted, (at) => !isAskedFor(run, at)) : null;
  return others ?? nearest(run, wanted, () => true);
}

/**
 * Where the piece that is measured now was taken: where somebody says so, else where it was asked for.
 * @param said null where nobody says
 * @throws problems positions-unknown, position-outside, position-taken
 */
export function positionTaken(run: Taking, piece: number, said: number | null): number | null {
  if (said === null) return positionToTake(run, piece);
  if (!positionsAreKnown(run)) throw problem('positions-unknown', said);
  const { size } = run.lot;
  if (!Number.isSafeInteger(said) || said < 1 || said > size) throw problem('position-outside', said, size);
  const other = run.taken.get(said);
  if (other !== undefined && other !== piece) throw problem('position-taken', said, other);
  return said;
}

/** How many pieces whose reading counts were taken at another position than was drawn, or follows by rule, for them. */
export function takenElsewhere(run: Pick<Run, 'positions' | 'lot' | 'plan' | 'taken'>): number {
  return run.taken.count((piece, position) => positionOf(run, piece) !== position);
}

/** Where a piece that is measured again was taken last. */
function earlierPosition({ again, readings }: Taking, piece: number): number | null {
  if (!again.includes(piece)) return null;
  return readings.findLast((reading) => reading.piece === piece)?.position ?? null;
}

function nearest({ taken, lot }: Taking, wanted: number, suits: (position: number) => boolean): number | null {
  const isLeft = (at: number) => at >= 1 && at <= lot.size && !taken.has(at) && suits(at);
  for (let step = 1; step < lot.size; step++) {
    if (isLeft(wanted + step)) return wanted + step;
    if (isLeft(wanted - step)) return wanted - step;
  }
  return null;
}
