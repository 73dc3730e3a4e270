import Big from 'big.js';
import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { type DecimalText, decimalText, plain } from '../quantity/decimal.ts';
import type { Window } from './window.ts';

/**
 * How a reading's own uncertainty takes part in its verdict (ILAC-G8:09/2019, 4.2):
 * `simple-acceptance`: not at all; a value on a limit is inside.
 * `guard-band`: only what lies inside the limits by a guard band or more passes; everything else fails.
 * `non-binary`: what lies in a guard band passes or fails on condition.
 */
export const RULES = ['simple-acceptance', 'guard-band', 'non-binary'] as const;
export type Rule = (typeof RULES)[number];

/** The largest times U a guard band may be wide, our choice; the widest that ILAC-G8:09/2019, Table 1 lists is 3. */
export const MOST_GUARD_FACTOR = 10;

/** The rule of a lot. It belongs to the plan and stands on the certificate. */
export const decisionRule = z.object({
  rule: z.enum(RULES).default('simple-acceptance'),
  /** How wide the guard bands are: so many times the expanded uncertainty of the reading. */
  guardFactor: decimalText
    .refine((text) => Number(text) >= 0 && Number(text) <= MOST_GUARD_FACTOR, `must be from 0 to ${MOST_GUARD_FACTOR}`)
    .default('1'),
  /** Standard deviation of what the process makes, in ohms, for the risks of a lot; null where it is not known. */
  processSpreadOhms: decimalText
    .refine((text) => Number(text) > 0, 'must be above 0')
    .nullable()
    .default(null),
});

export type DecisionRule = z.output<typeof decisionRule>;

export const SIMPLE_ACCEPTANCE: DecisionRule = {
  rule: 'simple-acceptance',
  guardFactor: '1',
  processSpreadOhms: null,
};

/**
 * Width of the guard bands of one reading, w = r · U, in exact ohms; 0 with simple acceptance.
 * @param expandedOhms U of the reading; null where it is not known
 * @throws problem uncertainty-unknown where the rule needs U and there is none
 */
export function guardOhms({ rule, guardFactor }: DecisionRule, expandedOhms: DecimalText | null): Big {
  if (rule === 'simple-acceptance') return new Big(0);
  if (expandedOhms === null) throw problem('uncertainty-unknown');
  return new Big(expandedOhms).times(guardFactor);
}

/**
 * The acceptance limits: the window less its guard bands, A_L = T_L - w (ILAC-G8:09/2019, 4.2.2).
 * @throws problem guard-bands-meet where they leave nothing between them
 */
export function acceptanceLimits(
  window: Pick<Window, 'lower' | 'upper'>,
  guard: Big,
): { lower: DecimalText | null; upper: DecimalText | null } {
  const lower = window.lower === null ? null : new Big(window.lower).plus(guard);
  const upper = window.upper === null ? null : new Big(window.upper).minus(guard);
  if (lower && upper && lower.gt(upper)) throw problem('guard-bands-meet', plain(guard));
  return { lower: lower && plain(lower), upper: upper && plain(upper) };
}
