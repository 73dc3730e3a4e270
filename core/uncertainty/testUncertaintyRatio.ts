import Big from 'big.js';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { toleranceOhms, type Window } from '../window/window.ts';

/** Tolerance over expanded uncertainty. */
export interface TestUncertaintyRatio {
  /** To two significant figures, rounded down, so that a ratio never looks better than it is; null where U is 0. */
  ratio: DecimalText | null;
  /** What it means, in words; null where it is enough. */
  warning: string | null;
}

/** The least that is commonly asked for. */
export const ENOUGH = 4;
const FIGURES = 2;
const DOWN = 0;

/**
 * The test uncertainty ratio: the tolerance, half the width of the window, over the expanded uncertainty of a reading (common
 * practice, 4:1; the term is that of ANSI/NCSL Z540.3-2006, from memory). A one-sided window counts half of its limit. Under 4
 * is decided in exact decimals. Null where U is not known.
 */
export function testUncertaintyRatio(
  window: Pick<Window, 'lower' | 'upper'>,
  expandedOhms: DecimalText | null,
): TestUncertaintyRatio | null {
  if (expandedOhms === null) return null;
  const tolerance = toleranceOhms(window);
  const expanded = new Big(expandedOhms).abs();
  if (expanded.eq(0)) return { ratio: null, warning: null };
  const ratio = roundedDown(tolerance, expanded);
  if (tolerance.gte(expanded.times(ENOUGH))) return { ratio, warning: null };
  return {
    ratio,
    warning: `The tolerance of ±${plain(tolerance)} Ω is ${ratio} times the uncertainty of ±${expandedOhms} Ω, and ${ENOUGH} times is commonly asked for: verdicts near a limit are weak. Use a better range or meter, or a guard band.`,
  };
}

function roundedDown(tolerance: Big, expanded: Big): DecimalText {
  if (tolerance.eq(0)) return '0';
  // The exponent of the quotient is the difference of theirs, or one less.
  const decimals = FIGURES + expanded.e - tolerance.e;
  const Rounding = Big();
  Rounding.DP = Math.max(0, decimals);
  Rounding.RM = DOWN;
  const quotient = new Rounding(tolerance).div(expanded);
  return plain(quotient.round(FIGURES - 1 - quotient.e, DOWN));
}
