import Big from 'big.js';
import type { StressedPiece } from '../../core/drift/stress.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import type { Standing } from '../verdict/verdictWords.ts';

/** How much of its limit a piece has used up, 1 being all; an open piece more than any. */
export function shareOfLimit({ changeOhms, limitOhms }: Pick<StressedPiece, 'changeOhms' | 'limitOhms'>): number {
  if (changeOhms === null) return Number.POSITIVE_INFINITY;
  const [change, limit] = [Math.abs(Number(changeOhms)), Number(limitOhms)];
  return limit === 0 ? (change === 0 ? 0 : Number.POSITIVE_INFINITY) : change / limit;
}

/** The pieces with the one that used up most of its limit first. */
export function worstFirst(pieces: readonly StressedPiece[]): StressedPiece[] {
  return pieces.toSorted((a, b) => orderOf(shareOfLimit(b), shareOfLimit(a)));
}

function orderOf(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

/** A difference in ohms with its sign, like `−14.6 Ω`, in the unit of another value. */
export function changeText(ohms: string, like: string): string {
  const text = formatOhms(ohms, Number(like) === 0 ? {} : { like }).replace(' ', '\u00a0');
  return Number(ohms) > 0 ? `+${text}` : text.replace('-', '\u2212');
}

/** A share in per cent with its sign, like `−0.31200 %`. */
export function changePercentText(percent: string): string {
  return `${Number(percent) > 0 ? '+' : ''}${percent.replace('-', '\u2212')}\u00a0%`;
}

/** How the piece that used up most of its limit stands, in a sentence. */
export function worstWords(worst: StressedPiece): string {
  const { piece, changeOhms, changePercent, limitOhms } = worst;
  if (changeOhms === null) return `Piece ${piece} is worst: it is open now.`;
  if (new Big(changeOhms).eq(0)) return 'No piece changed at all.';
  const share = changePercent === null ? '' : ` (${changePercentText(changePercent)})`;
  const used = `${Number((shareOfLimit(worst) * 100).toPrecision(3))}\u00a0%`;
  const limit = changeText(limitOhms, changeOhms).replace('+', '±');
  return `Piece ${piece} changed most for its limit: ${changeText(changeOhms, changeOhms)}${share}, ${used} of the ${limit} it may.`;
}

/** The shape a piece has: within as passed, beyond as failed by its way, half filled where that is not sure. */
export function standingOfPiece({ within, uncertain, changeOhms }: StressedPiece): Standing {
  if (changeOhms === null) return 'open';
  if (within) return uncertain ? 'conditional-pass' : 'pass';
  const way = Number(changeOhms) > 0 ? 'high' : 'low';
  return uncertain ? `conditional-fail-${way}` : `fail-${way}`;
}

/** The verdict of a piece in words. */
export function pieceWords({ within, uncertain, changeOhms }: StressedPiece): string {
  if (changeOhms === null) return 'Open now';
  return `${within ? 'Within' : 'Beyond'}${uncertain ? ', not sure' : ''}`;
}
