import Big from 'big.js';
import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { LEVELS } from '../sampling/codeLetter.ts';
import type { PlanChoice } from '../sampling/planChoice.ts';
import { SEVERITIES, STANDARDS } from '../sampling/singlePlan.ts';
import { VARIABLES_LEVELS } from '../sampling/variablesPlan.ts';
import { studyChoice } from '../study/studyPlan.ts';
import { spreadOhms } from './spreadOhms.ts';
import { lineOfText, namedText } from './text.ts';

const pieces = z.number('expected a whole number of pieces').int('expected a whole number of pieces');

/** Per cent between 0 and 100, both excluded, as text. */
const percent = z
  .string()
  .trim()
  .regex(/^\d{1,2}(\.\d{1,9})?$/, 'expected per cent as text, like "0.65"')
  .refine((text) => Number(text) > 0, 'must be above 0')
  .transform((text): DecimalText => plain(new Big(text)));

const points = {
  acceptedPercent: percent,
  producerRiskPercent: percent,
  refusedPercent: percent,
  consumerRiskPercent: percent,
};

/** Somebody inspects otherwise than the switching rules say, and answers for it. */
const override = z.strictObject({ by: namedText, reason: namedText });

export const byAql = z.strictObject({
  aql: z.string(),
  level: z.enum(LEVELS).default('II'),
  standard: z.enum(STANDARDS).default('MIL-STD-105E'),
  sampling: z.enum(['single', 'double']).default('single'),
  /** Left out: as the switching rules say for the lots of this part and supplier. */
  severity: z.enum(SEVERITIES).optional(),
  override: override.optional(),
});
export const byNumbers = z.strictObject({ sampleSize: pieces, accept: pieces });
export const byZeroAcceptance = z.strictObject({
  zeroAcceptance: z.strictObject({ refusedPercent: percent, riskPercent: percent.default('10') }),
});
export const byTwoPoints = z.strictObject({
  twoPoint: z.strictObject({ ...points, of: z.enum(['process', 'lot']).default('process') }),
});
export const byVariables = z.strictObject({
  variables: z.union([
    z.strictObject({
      aql: z.string(),
      level: z.enum(VARIABLES_LEVELS).default('IV'),
      severity: z.enum(['normal', 'tightened']).default('normal'),
    }),
    z.strictObject({
      ...points,
      /** Standard deviation of the process where it is known: `12 ohm`, or per cent of the nominal value: `0.3 %`. */
      knownSpread: lineOfText.default(''),
    }),
  ]),
});
export const byEveryPiece = z.strictObject({ everyPiece: z.strictObject({ accept: pieces.default(0) }) });
/** A study of the measurement itself: the same pieces again and again, in an order that follows from the seed. */
export const byStudy = z.strictObject({ study: studyChoice.omit({ kind: true }) });

/** How the sample is chosen, as it may be written; told apart by its fields. */
export const PLAN_CLAIMS = [byAql, byNumbers, byZeroAcceptance, byTwoPoints, byVariables, byEveryPiece] as const;

export const PLAN_EXPECTED =
  'expected { "aql": "1.0", "level": "II" }, { "sampleSize": 20, "accept": 0 }, { "zeroAcceptance": { "refusedPercent": "1" } }, { "twoPoint": { … } }, { "variables": { … } }, { "everyPiece": { … } } or { "study": { … } }';

export const planClaim = z.union([...PLAN_CLAIMS, byStudy], { error: PLAN_EXPECTED });
export type PlanClaim = z.output<typeof planClaim>;

/**
 * The choice that a claim of a plan means.
 * @param severity what the switching rules say, where the claim says nothing
 * @throws problem spread-unreadable
 */
export function choiceOf(
  plan: PlanClaim,
  nominal: Big | null,
  severity: (typeof SEVERITIES)[number] = 'normal',
): PlanChoice {
  if ('aql' in plan) {
    const { override: _, ...asked } = plan;
    return { kind: 'aql', ...asked, severity: plan.severity ?? severity };
  }
  if ('study' in plan) return { kind: 'study', ...plan.study };
  if ('zeroAcceptance' in plan) return { kind: 'zero-acceptance', ...plan.zeroAcceptance };
  if ('twoPoint' in plan) return { kind: 'two-point', ...plan.twoPoint };
  if ('everyPiece' in plan) return { kind: 'every-piece', ...plan.everyPiece };
  if ('sampleSize' in plan) return { kind: 'agreed', ...plan };
  const { variables } = plan;
  if ('aql' in variables) return { kind: 'variables', by: { kind: 'aql', ...variables }, spreadOhms: null };
  const { knownSpread, ...by } = variables;
  return {
    kind: 'variables',
    by: { kind: 'two-point', ...by },
    spreadOhms: knownSpread === '' ? null : spreadOhms(knownSpread, nominal),
  };
}

/**
 * Who inspects otherwise than the rules say, where somebody does.
 * @param says the severity by the rules @param reducedAllowed whether reduced inspection may be chosen without an override
 * @throws problems inspection-discontinued, severity-not-by-rule where nobody answers for it
 */
export function overrideOf(
  plan: PlanClaim,
  says: (typeof SEVERITIES)[number] | 'discontinued',
  reducedAllowed: boolean,
): { by: string; reason: string } | null {
  if (!('aql' in plan)) return null;
  const chosen = plan.severity ?? says;
  const isByRule = chosen === says || (chosen === 'reduced' && reducedAllowed);
  if (says !== 'discontinued' && isByRule) return null;
  if (plan.override) return plan.override;
  throw says === 'discontinued' ? problem('inspection-discontinued') : problem('severity-not-by-rule', chosen, says);
}
