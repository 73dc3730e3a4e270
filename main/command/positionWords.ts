import type { InspectionEvent } from '../../core/inspection/event.ts';
import { nextPiece, nextPosition, type Run } from '../../core/inspection/run.ts';
import { formatCount } from '../../core/quantity/formatCount.ts';
import type { PositionsChoice } from '../../core/sampling/positions.ts';

/** Where the pieces of a sample are taken. */
export function positionsWords(positions: PositionsChoice): string {
  switch (positions.kind) {
    case 'random':
      return `at positions drawn at random, seed ${positions.seed}`;
    case 'spread':
      return 'at beginning, middle and end of the reel';
    case 'as-taken':
      return 'as they come from the reel';
  }
}

/** Which piece comes next, and from where: `Next: position 1 204 (piece 5)`, or `Piece 5` where positions are not known. */
export function nextWords(run: Run): string {
  const position = nextPosition(run);
  return position === null
    ? `Piece ${nextPiece(run)}`
    : `Next: position ${formatCount(position)} (piece ${nextPiece(run)})`;
}

/** The piece of a reading and where it was taken: `piece 5 at position 1 204`. */
export function pieceWords({ piece, position }: Extract<InspectionEvent, { type: 'reading-taken' }>): string {
  return position === null ? `piece ${piece}` : `piece ${piece} at position ${formatCount(position)}`;
}

/** What may be answered about the position of the next piece, to stand before other answers; empty where positions are not known. */
export function positionChoices(run: Run): string {
  if (nextPosition(run) === null) return '';
  const back = run.said?.piece === nextPiece(run) ? 'p alone: where it was asked for after all, ' : '';
  return `p and a number: taken there instead, ${back}`;
}
