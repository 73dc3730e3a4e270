import Big from 'big.js';
import type { StressedPiece } from '../../core/drift/stress.ts';
import type { DecimalText } from '../../core/quantity/decimal.ts';
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

/** How values, changes and limits are written: to one digit each, so that columns can be compared. */
export interface StressDigits {
  value: string;
  change: string;
  limit: string;
}

/** The finest digit, in ohms, that any of the pieces has. */
export function digitsOf(pieces: readonly StressedPiece[]): StressDigits {
  return {
    value: finest(pieces.flatMap(({ beforeOhms, afterOhms }) => [beforeOhms, afterOhms])),
    change: finest(pieces.map(({ changeOhms }) => changeOhms)),
    limit: finest(pieces.map(({ limitOhms }) => limitOhms)),
  };
}

/** Exact decimal texts have no exponent. */
function finest(ohms: readonly (DecimalText | null)[]): string {
  const decimals = Math.max(0, ...ohms.map((text) => text?.split('.')[1]?.length ?? 0));
  return new Big(10).pow(-decimals).toFixed();
}

/**
 * Ohms with their last digit at `resolutionOhms`, in the unit of another value.
 * @param sign as differences have it
 */
export function columnText(ohms: DecimalText, like: DecimalText, resolutionOhms: string, sign = false): string {
  const text = formatOhms(ohms, { resolutionOhms, ...(Number(like) !== 0 && { like }) }).replace(' ', '\u00a0');
  return sign && Number(ohms) > 0 ? `+${text}` : text.replace('-', '\u2212');
}

/** A share in per cent with its sign, like `−0.31200 %`. */
export function changePercentText(percent: string): string {
  return `${Number(percent) > 0 ? '+' : ''}${percent.replace('-', '\u2212')}\u00a0%`;
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
