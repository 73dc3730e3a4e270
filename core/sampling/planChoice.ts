import * as z from 'zod';
import { decimalText } from '../quantity/decimal.ts';
import { studyChoice } from '../study/studyPlan.ts';
import { LEVELS } from './codeLetter.ts';
import { SEVERITIES, STANDARDS } from './singlePlan.ts';
import { VARIABLES_LEVELS } from './variablesPlan.ts';

const count = z.number().int().nonnegative();

/** By AQL from the tables of a standard. What is left out is as before there was a choice of it. */
const aql = z.object({
  kind: z.literal('aql'),
  standard: z.enum(STANDARDS).default('MIL-STD-105E'),
  level: z.enum(LEVELS),
  aql: z.string(),
  severity: z.enum(SEVERITIES).default('normal'),
  /** One sample, or a second one where the first does not decide. */
  sampling: z.enum(['single', 'double']).default('single'),
});

/** Numbers agreed for this lot. */
const agreed = z.object({ kind: z.literal('agreed'), sampleSize: count, accept: count });

/** No nonconforming piece is accepted; as many are measured as a lot of the refused quality passes with at most this risk. */
const zeroAcceptance = z.object({
  kind: z.literal('zero-acceptance'),
  refusedPercent: decimalText,
  riskPercent: decimalText,
});

/** Two qualities, and how often lots of them may be decided the wrong way. */
const points = {
  acceptedPercent: decimalText,
  producerRiskPercent: decimalText,
  refusedPercent: decimalText,
  consumerRiskPercent: decimalText,
};

/** Counting nonconforming pieces; `process`: binomial, as of lots from a process; `lot`: hypergeometric, of this very lot. */
const twoPoint = z.object({ kind: z.literal('two-point'), ...points, of: z.enum(['process', 'lot']) });

/** By mean and spread of the values, where the lot looks normal. */
const variables = z.object({
  kind: z.literal('variables'),
  by: z.discriminatedUnion('kind', [
    z.object({
      kind: z.literal('aql'),
      level: z.enum(VARIABLES_LEVELS),
      aql: z.string(),
      severity: z.enum(['normal', 'tightened']),
    }),
    z.object({ kind: z.literal('two-point'), ...points }),
  ]),
  /** Standard deviation of the process where it is known; null: it is taken from the sample. */
  spreadOhms: decimalText.refine((text) => Number(text) > 0, 'must be above 0').nullable(),
});

/** All pieces of the lot. */
const everyPiece = z.object({ kind: z.literal('every-piece'), accept: count });

/** How the sample is chosen; a study of the measurement itself decides no lot. */
export const planChoice = z.discriminatedUnion('kind', [
  aql,
  agreed,
  zeroAcceptance,
  twoPoint,
  variables,
  everyPiece,
  studyChoice,
]);

export type PlanChoice = z.output<typeof planChoice>;
export type PlanPoints = z.output<z.ZodObject<typeof points>>;
