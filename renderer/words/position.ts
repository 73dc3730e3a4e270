import { nextPosition, type Reading, type Run } from '../../core/inspection/run.ts';
import { type PositionsChoice, positionOf } from '../../core/sampling/positions.ts';
import { formatCount } from './count.ts';
import { pieceOnProbes } from './turn.ts';

/** A place along the reel: `position 1 204`. */
export function positionText(position: number): string {
  return `position\u00a0${formatCount(position)}`;
}

/** Where the pieces of a sample are taken, for who looks at the lot. */
export function positionsWords(positions: PositionsChoice): string {
  switch (positions.kind) {
    case 'random':
      return `positions drawn at random, seed ${positions.seed}`;
    case 'spread':
      return 'from beginning, middle and end of the reel';
    case 'as-taken':
      return 'pieces as they come, positions not noted';
  }
}

/** What is to be put on the probes next, with where it is taken where that is known: `piece 5, from position 1 204,`. */
export function nextOnProbes(run: Run, next: number): string {
  const piece = pieceOnProbes(run.plan, next);
  const position = nextPosition(run);
  return position === null ? piece : `${piece}, from ${positionText(position)},`;
}

/** Where along the reel the piece of a reading was taken, and where it was asked for where that is another place: `1 205, asked for 1 204`. */
export function takenText(run: Run, { piece, position }: Pick<Reading, 'piece' | 'position'>): string {
  if (position === null) return '';
  const asked = positionOf(run, piece);
  const taken = formatCount(position);
  return asked === null || asked === position ? taken : `${taken}, asked for ${formatCount(asked)}`;
}
