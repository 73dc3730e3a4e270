import type { DecimalText } from '../../core/quantity/decimal.ts';
import { type DecisionRule, guardOhms } from '../../core/window/decisionRule.ts';
import type { Window } from '../../core/window/window.ts';

/** What guard bands are drawn of: the rule of the lot, and U of a reading; null while it is not known. */
export interface Guard {
  decision: DecisionRule;
  expandedOhms: DecimalText | null;
}

/** A stretch of values in ohms. Only for drawing. */
export interface Stretch {
  from: number;
  to: number;
}

/**
 * The guard bands of a window, the lower one first: within the limits by the guard-band rule, on both sides of them where
 * there are conditional verdicts, none with simple acceptance, without U and without width. Bands that meet share the
 * window.
 */
export function guardBands(window: Window, { decision, expandedOhms }: Guard): Stretch[] {
  if (decision.rule === 'simple-acceptance' || expandedOhms === null) return [];
  const width = Number(guardOhms(decision, expandedOhms));
  if (width <= 0) return [];
  const lower = window.lower === null ? Number.NEGATIVE_INFINITY : Number(window.lower);
  const upper = window.upper === null ? Number.POSITIVE_INFINITY : Number(window.upper);
  const outside = decision.rule === 'non-binary' ? width : 0;
  const bands: Stretch[] = [];
  if (window.lower !== null) bands.push({ from: lower - outside, to: Math.min(lower + width, upper) });
  if (window.upper !== null) bands.push({ from: Math.max(upper - width, lower), to: upper + outside });
  const [first, second] = bands;
  if (first && second && first.to > second.from) first.to = second.from = (lower + upper) / 2;
  return bands;
}
