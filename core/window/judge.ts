import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Window } from './window.ts';

/** What a meter said of a piece: a value in exact ohms, or its overload. `raw` is its very text. */
export type Measured = { kind: 'value'; ohms: DecimalText; raw: string } | { kind: 'overload'; raw: string };

/** The verdict of one reading. `open` is the meter's overload: nothing conducts, or far above what it can read. */
export type Verdict = 'pass' | 'fail-low' | 'fail-high' | 'open';

/** How far below zero, as a share of the larger limit, noise and zero may carry a reading. Our choice, far above any meter's noise. */
const NEGATIVE_SHARE = '0.01';

/**
 * The verdict of one reading by simple acceptance: a value on a limit is inside.
 * @throws problem reading-negative where the value is further below zero than noise explains: then it says nothing of the piece
 */
export function judge(window: Window, measured: Measured): Verdict {
  if (measured.kind === 'overload') return 'open';
  const ohms = new Big(measured.ohms);
  const lower = window.lower === null ? null : new Big(window.lower);
  const upper = window.upper === null ? null : new Big(window.upper);
  const largest = upper ?? lower;
  if (largest && ohms.lt(0) && ohms.lt(largest.abs().times(NEGATIVE_SHARE).neg()) && !(lower && ohms.gte(lower))) {
    throw problem('reading-negative', measured.raw);
  }
  if (lower && ohms.lt(lower)) return 'fail-low';
  if (upper && ohms.gt(upper)) return 'fail-high';
  return 'pass';
}
