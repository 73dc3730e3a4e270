import Big from 'big.js';
import type { DecimalText } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { conforms, type Verdict } from './judge.ts';
import type { Window } from './window.ts';

/**
 * What makes a piece that does not conform a nonconformity of class A, the class of the highest concern (ISO 2859-1, 3.1; MIL-STD-105E,
 * 3.5 lets classes have numbers of their own), and how many such pieces are accepted.
 */
export interface ClassA {
  /** Most pieces of class A that are accepted; usually none. */
  accept: number;
  /** A value further beyond a limit of the window than this share of that limit, in per cent, is a wrong value. */
  beyondPercent: DecimalText;
}

/**
 * Whether a reading shows a piece of class A: open, or of a value so far outside the window that it is another value or a short.
 * Everything else that does not conform is of class B, out of the window. False where classes are not told apart.
 * @param ohms null for an open piece
 */
export function isClassA(
  classA: ClassA | null,
  window: Window,
  { verdict, ohms }: { verdict: Verdict; ohms: DecimalText | null },
): boolean {
  if (classA === null || conforms(verdict)) return false;
  if (verdict === 'open' || ohms === null) return true;
  const { lowest, highest } = limitsOf(window, classA.beyondPercent);
  const value = new Big(ohms);
  return (lowest !== null && value.lt(lowest)) || (highest !== null && value.gt(highest));
}

/** Lowest and highest value that is no wrong value yet. */
const limitsOf = rememberLast(({ lower, upper }: Window, beyondPercent: DecimalText) => {
  const share = new Big(beyondPercent).times('0.01');
  return {
    lowest: lower === null ? null : new Big(lower).times(new Big(1).minus(share)),
    highest: upper === null ? null : new Big(upper).times(new Big(1).plus(share)),
  };
});
