import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { type Window, widthOf } from './window.ts';

/** What a meter said of a piece: a value in exact ohms, or its overload. `raw` is its very text. */
export type Measured = { kind: 'value'; ohms: DecimalText; raw: string } | { kind: 'overload'; raw: string };

/** The verdict of one reading. `open` is the meter's overload: nothing conducts, or far above what it can read. */
export type Verdict = 'pass' | 'fail-low' | 'fail-high' | 'open';

/** How far below zero, as a share of the larger limit, noise and zero may carry a reading. Our choice, far above any meter's noise. */
const NEGATIVE_SHARE = '0.01';

/** The last digit must be worth no more than this share of the window (the rule of ten, common practice). */
const COARSEST_SHARE = '0.1';

/**
 * The verdict of one reading by simple acceptance: a value on a limit is inside.
 * @throws problems reading-negative where the value is further below zero than noise explains (a negative overload
 *   too), reading-too-coarse where the meter's last digit is worth more than a tenth of the window: such readings say
 *   nothing of the piece
 */
export function judge(window: Window, measured: Measured): Verdict {
  if (measured.kind === 'overload') {
    if (measured.raw.trimStart().startsWith('-')) throw problem('reading-negative', measured.raw);
    return 'open';
  }
  const ohms = new Big(measured.ohms);
  const lower = window.lower === null ? null : new Big(window.lower);
  const upper = window.upper === null ? null : new Big(window.upper);
  const largest = upper ?? lower;
  if (largest && ohms.lt(0) && ohms.lt(largest.abs().times(NEGATIVE_SHARE).neg()) && !(lower && ohms.gte(lower))) {
    throw problem('reading-negative', measured.raw);
  }
  const resolution = resolutionOfRaw(measured.raw);
  if (resolution !== null && isTooCoarse(window, ohms, new Big(resolution), lower, upper)) {
    throw problem('reading-too-coarse', measured.raw, resolution);
  }
  if (lower && ohms.lt(lower)) return 'fail-low';
  if (upper && ohms.gt(upper)) return 'fail-high';
  return 'pass';
}

/** Whether the last digit is too coarse to tell. Far outside the window it need not be fine. */
function isTooCoarse(window: Window, ohms: Big, resolution: Big, lower: Big | null, upper: Big | null): boolean {
  if (lower && ohms.plus(resolution).lt(lower)) return false;
  if (upper && ohms.minus(resolution).gt(upper)) return false;
  return resolution.gt(widthOf(window).times(COARSEST_SHARE));
}
