import { numbersText } from '../../core/quantity/numbersText.ts';
import { counted } from './count.ts';

/** Numbers of pieces in order, runs drawn together: `1 to 12, 15`. */
export function piecesText(pieces: readonly number[]): string {
  return numbersText(pieces);
}

/**
 * How many pieces there are and which, like `4 pieces, numbers 1 to 3, 7`.
 * @param noun what is numbered, where it is not pieces: one, and many
 */
export function numberedPieces(
  pieces: readonly number[],
  noun: readonly [one: string, many: string] = ['piece', 'pieces'],
): string {
  const numbers = pieces.length === 1 ? 'number' : 'numbers';
  return `${counted(pieces.length, ...noun)}, ${numbers} ${piecesText(pieces)}`;
}
