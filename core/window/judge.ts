import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { compareDecimals, type DecimalText } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { acceptanceLimits, type DecisionRule, guardOhms, SIMPLE_ACCEPTANCE } from './decisionRule.ts';
import { type Window, widthOf } from './window.ts';

/** What a meter said of a piece: a value in exact ohms, or its overload. `raw` is its very text. */
export type Measured = { kind: 'value'; ohms: DecimalText; raw: string } | { kind: 'overload'; raw: string };

/**
 * The verdict of one reading. `open` is the meter's overload: nothing conducts, or far above what it can read. The ones on
 * condition lie in a guard band, inside or outside the window (ILAC-G8:09/2019, 4.2.3).
 */
export const VERDICTS = [
  'pass',
  'conditional-pass',
  'conditional-fail-low',
  'conditional-fail-high',
  'fail-low',
  'fail-high',
  'open',
] as const;
export type Verdict = (typeof VERDICTS)[number];

/** Whether a piece with this verdict conforms: one that passes on condition lies inside the window and does. */
export function conforms(verdict: Verdict): boolean {
  return verdict === 'pass' || verdict === 'conditional-pass';
}

/** How far below zero, as a share of the larger limit, noise and zero may carry a reading. Our choice, far above any meter's noise. */
const NEGATIVE_SHARE = '0.01';

/** The last digit must be worth no more than this share of the window (the rule of ten, common practice). */
const COARSEST_SHARE = '0.1';

/**
 * The verdict of one reading by the lot's decision rule. A value on a limit, of the window or of a guard band, is inside.
 * @param expandedOhms U of the reading; null where it is not known: then only simple acceptance lets a value pass
 * @throws problems reading-negative where the value is further below zero than noise and U explain (a negative
 *   overload too), reading-too-coarse where the meter's last digit is worth more than a tenth of the window: such readings say
 *   nothing of the piece; of a value inside the window uncertainty-unknown, guard-bands-meet where the rule cannot be followed
 */
export function judge(
  window: Window,
  measured: Measured,
  rule: DecisionRule = SIMPLE_ACCEPTANCE,
  expandedOhms: DecimalText | null = null,
): Verdict {
  if (measured.kind === 'overload') {
    if (measured.raw.trimStart().startsWith('-')) throw problem('reading-negative', measured.raw);
    return 'open';
  }
  const { ohms } = measured;
  const isBelow = window.lower !== null && compareDecimals(ohms, window.lower) < 0;
  const isAbove = window.upper !== null && compareDecimals(ohms, window.upper) > 0;
  if (ohms.startsWith('-') && (isBelow || window.lower === null) && isTooNegative(window, ohms, expandedOhms)) {
    throw problem('reading-negative', measured.raw);
  }
  const resolution = resolutionOfRaw(measured.raw);
  const isWithin = !isBelow && !isAbove;
  if (resolution !== null && isCoarse(window, resolution) && (isWithin || isNear(window, ohms, resolution))) {
    throw problem('reading-too-coarse', measured.raw, resolution);
  }
  const conditional = rule.rule === 'non-binary';
  // Outside nothing is refused: a wrong value far away is a finding, however little its reading is known to be worth.
  if (isBelow) {
    return conditional && mayReach(rule, expandedOhms, distance(ohms, window.lower))
      ? 'conditional-fail-low'
      : 'fail-low';
  }
  if (isAbove) {
    return conditional && mayReach(rule, expandedOhms, distance(ohms, window.upper))
      ? 'conditional-fail-high'
      : 'fail-high';
  }
  if (rule.rule === 'simple-acceptance') return 'pass';
  const { lower, upper } = acceptance(window, rule, expandedOhms);
  if (lower !== null && compareDecimals(ohms, lower) < 0) return conditional ? 'conditional-pass' : 'fail-low';
  if (upper !== null && compareDecimals(ohms, upper) > 0) return conditional ? 'conditional-pass' : 'fail-high';
  return 'pass';
}

const acceptance = rememberLast((window: Window, rule: DecisionRule, expandedOhms: DecimalText | null) =>
  acceptanceLimits(window, guardOhms(rule, expandedOhms)),
);

function distance(ohms: DecimalText, limit: DecimalText | null): Big {
  return new Big(ohms).minus(limit ?? 0).abs();
}

/** Further below zero than noise and the reading's own uncertainty explain: a piece of 0 Ω may read a little less than nothing. */
function isTooNegative({ lower, upper }: Window, text: DecimalText, expandedOhms: DecimalText | null): boolean {
  const largest = upper ?? lower;
  if (largest === null) return false;
  const ohms = new Big(text);
  const noise = new Big(largest).abs().times(NEGATIVE_SHARE);
  return ohms.lt(noise.neg()) && (expandedOhms === null || ohms.lt(new Big(expandedOhms).neg()));
}

/** Whether a guard band is as wide as this; where U is not known, it may be: the weaker claim. */
function mayReach(rule: DecisionRule, expandedOhms: DecimalText | null, ohms: Big): boolean {
  return expandedOhms === null || guardOhms(rule, expandedOhms).gte(ohms);
}

/** Whether the last digit is too coarse to tell. */
const isCoarse = rememberLast((window: Window, resolution: DecimalText) =>
  new Big(resolution).gt(widthOf(window).times(COARSEST_SHARE)),
);

/** Whether the last digit reaches the window. Further outside it need not be fine. */
function isNear({ lower, upper }: Window, ohms: DecimalText, resolution: DecimalText): boolean {
  const value = new Big(ohms);
  if (lower !== null && value.plus(resolution).lt(lower)) return false;
  return upper === null || value.minus(resolution).lte(upper);
}
