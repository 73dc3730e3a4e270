import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { type StudyChoice, turnsOf } from '../study/studyPlan.ts';
import { codeLetter, type Level } from './codeLetter.ts';
import { doublePlan } from './doublePlan.ts';
import type { PlanChoice } from './planChoice.ts';
import { AQLS, singlePlan } from './singlePlan.ts';
import { type TwoPointPlan, twoPointPlan } from './twoPoint.ts';
import {
  type TabulatedVariablesPlan,
  type VariablesLevel,
  variablesByAql,
  variablesTwoPoint,
} from './variablesPlan.ts';
import { zeroAcceptancePlan } from './zeroAcceptance.ts';

export type { PlanChoice } from './planChoice.ts';

/** Numbers that decide by counting nonconforming pieces: from `reject` on not accepted, else accepted when the sample is complete. */
interface Numbers {
  accept: number;
  reject: number;
}

/**
 * Pieces that are measured besides where the sample alone does not decide: a second sample, or, where the shape of the values forbids
 * deciding by mean and spread, as many as counting needs. The numbers are then of all pieces together.
 */
export interface Further extends Numbers {
  kind: 'second-sample' | 'attributes';
  /** How many more; 0 where the sample is large enough already. */
  sampleSize: number;
}

/** The plan of one lot: how many pieces are measured and what decides. */
export interface Plan extends Numbers {
  choice: PlanChoice;
  /** Code letter of the lot and the letter the arrows lead to; null where no table was looked into. */
  codeLetter: string | null;
  planLetter: string | null;
  /** Pieces of the sample, of double sampling of the first one. */
  sampleSize: number;
  /** The whole lot is measured, because it is wanted or the plan asks for as many pieces as there are, or more. */
  everyPiece: boolean;
  further: Further | null;
  /** Acceptability constant k of a plan by variables; accept and reject above decide nothing then. */
  variables: { k: DecimalText } | null;
}

/** Largest AQL that counts nonconforming pieces in per cent; above it the standard counts nonconformities (MIL-STD-105E, 4.3). */
const LARGEST_PERCENT_AQL = '10';

/** The standard's own spelling of an AQL, so that `1`, `1.0` and `1.00` are one. @throws problem aql-unknown */
export function preferredAql(text: string): string {
  const found = /^\d+(\.\d+)?$/.test(text.trim()) ? AQLS.find((aql) => new Big(aql).eq(text.trim())) : undefined;
  if (found === undefined) throw problem('aql-unknown', text);
  return found;
}

/** All pieces that may be measured, the further ones included. */
export function mostPieces({ sampleSize, further }: Pick<Plan, 'sampleSize' | 'further'>): number {
  return sampleSize + (further?.sampleSize ?? 0);
}

/**
 * The plan for a lot. A sample as large as the lot or larger becomes the whole lot (MIL-STD-105E, Table II, note to the arrows)
 * with the same acceptance number.
 * @param lotSize pieces, a whole number from 1 up
 * @throws problems of turnsOf, singlePlan, zeroAcceptancePlan, twoPointPlan, variablesByAql, variablesTwoPoint; lot-empty, level-unknown,
 *   aql-unknown, aql-not-percent, sample-larger-than-lot, acceptance-number-impossible
 */
export function planFor(lotSize: number, choice: PlanChoice): Plan {
  if (!Number.isSafeInteger(lotSize) || lotSize < 1) throw problem('lot-empty', String(lotSize));
  switch (choice.kind) {
    case 'study':
      return studyPlan(lotSize, choice);
    case 'agreed':
      return agreedPlan(lotSize, choice, choice.sampleSize, choice.accept);
    case 'every-piece':
      return agreedPlan(lotSize, choice, lotSize, choice.accept);
    case 'zero-acceptance': {
      const { sampleSize } = zeroAcceptancePlan(lotSize, choice.refusedPercent, choice.riskPercent);
      return counting(lotSize, choice, { sampleSize, accept: 0 });
    }
    case 'two-point':
      return counting(lotSize, choice, counts(lotSize, choice, choice.of));
    case 'aql':
      return aqlPlan(lotSize, { ...choice, aql: percentAql(choice.aql) });
    case 'variables': {
      const { by } = choice;
      return variablesPlan(lotSize, by.kind === 'aql' ? { ...choice, by: { ...by, aql: percentAql(by.aql) } } : choice);
    }
  }
}

/** @throws problems aql-unknown, aql-not-percent */
function percentAql(text: string): string {
  const aql = preferredAql(text);
  if (new Big(aql).gt(LARGEST_PERCENT_AQL)) throw problem('aql-not-percent', aql);
  return aql;
}

/** A study asks for a reading at each of its turns and accepts or refuses nothing. */
function studyPlan(lotSize: number, choice: StudyChoice): Plan {
  const turns = turnsOf(choice);
  if (choice.pieces > lotSize) throw problem('sample-larger-than-lot', choice.pieces, lotSize);
  return {
    ...WITHOUT_TABLES,
    choice,
    sampleSize: turns,
    accept: turns,
    reject: turns + 1,
    everyPiece: choice.pieces === lotSize,
  };
}

const WITHOUT_TABLES = { codeLetter: null, planLetter: null, further: null, variables: null } as const;

function agreedPlan(lotSize: number, choice: PlanChoice, sampleSize: number, accept: number): Plan {
  if (sampleSize > lotSize) throw problem('sample-larger-than-lot', sampleSize, lotSize);
  const whole = Number.isSafeInteger(sampleSize) && Number.isSafeInteger(accept);
  if (!whole || sampleSize < 1 || accept < 0 || accept >= sampleSize) {
    throw problem('acceptance-number-impossible', accept, sampleSize);
  }
  return counting(lotSize, choice, { sampleSize, accept });
}

/** A single sample that is counted; of more pieces than there are it becomes the lot, and never accepts whatever comes. */
function counting(lotSize: number, choice: PlanChoice, numbers: { sampleSize: number; accept: number }): Plan {
  const sampleSize = Math.min(numbers.sampleSize, lotSize);
  const accept = Math.min(numbers.accept, sampleSize - 1);
  const everyPiece = numbers.sampleSize >= lotSize;
  return { ...WITHOUT_TABLES, choice, sampleSize, accept, reject: accept + 1, everyPiece };
}

function counts(lotSize: number, points: Points, of: 'process' | 'lot'): TwoPointPlan {
  return twoPointPlan({ ...points, distribution: of === 'lot' ? { lotSize } : 'binomial' });
}

type Points = Omit<Parameters<typeof twoPointPlan>[0], 'distribution'>;

function aqlPlan(lotSize: number, choice: Extract<PlanChoice, { kind: 'aql' }>): Plan {
  const { standard, level, aql, severity, sampling } = choice;
  const letter = codeLetter(lotSize, level);
  if (sampling === 'double') {
    if (standard !== 'MIL-STD-105E') throw problem('double-not-known', standard);
    const double = doublePlan(severity, letter, aql);
    // Where the table refers to the single plan, and where the lot has no two samples in it, there is one sample.
    if (double.kind === 'double' && double.first.sampleSize + double.second.sampleSize <= lotSize) {
      const { first, second } = double;
      return {
        choice,
        codeLetter: letter,
        planLetter: double.letter,
        ...first,
        everyPiece: false,
        further: { kind: 'second-sample', ...second },
        variables: null,
      };
    }
  }
  const single = singlePlan(standard, severity, letter, aql);
  const sampleSize = Math.min(single.sampleSize, lotSize);
  // Of a tiny lot numbers that would accept it whatever it is.
  const accept = Math.min(single.accept, sampleSize - 1);
  return {
    choice,
    codeLetter: letter,
    planLetter: single.letter,
    sampleSize,
    accept,
    // Between them lies the gap of reduced inspection: accepted, and normal inspection comes back (MIL-STD-105E, 4.7.4).
    reject: Math.max(accept + 1, Math.min(single.reject, sampleSize)),
    everyPiece: single.sampleSize >= lotSize,
    further: null,
    variables: null,
  };
}

/**
 * Levels of inspection by attributes that stand for those of MIL-STD-414, as ANSI/ASQ Z1.9 renamed them (from memory).
 */
const ATTRIBUTES_LEVEL: Record<VariablesLevel, Level> = { I: 'S-3', II: 'S-4', III: 'I', IV: 'II', V: 'III' };

/** By mean and spread, with the plan that counts in its place where the values do not look normal. */
function variablesPlan(lotSize: number, choice: Extract<PlanChoice, { kind: 'variables' }>): Plan {
  const { by } = choice;
  const spread = choice.spreadOhms === null ? 'unknown' : 'known';
  const found =
    by.kind === 'aql'
      ? byAql(lotSize, choice, by)
      : { letter: null, planLetter: null, ...variablesTwoPoint({ ...by, spread }) };
  const attributes =
    by.kind === 'aql'
      ? planFor(lotSize, {
          kind: 'aql',
          standard: 'MIL-STD-105E',
          level: ATTRIBUTES_LEVEL[by.level],
          aql: by.aql,
          severity: by.severity,
          sampling: 'single',
        })
      : counting(lotSize, choice, counts(lotSize, by, 'process'));
  // Where counting needs no more pieces, or all of them are measured anyway, nothing is to be estimated.
  if (found.sampleSize >= attributes.sampleSize || found.sampleSize >= lotSize) {
    return { ...attributes, choice, codeLetter: found.letter, planLetter: null };
  }
  const { sampleSize, accept, reject } = attributes;
  return {
    choice,
    codeLetter: found.letter,
    planLetter: found.planLetter,
    sampleSize: found.sampleSize,
    accept,
    reject,
    everyPiece: false,
    further: { kind: 'attributes', sampleSize: sampleSize - found.sampleSize, accept, reject },
    variables: { k: found.k },
  };
}

type ByVariablesAql = Extract<Extract<PlanChoice, { kind: 'variables' }>['by'], { kind: 'aql' }>;

/** @throws problem spread-known-by-two-points: the tables of a known spread are not in here */
function byAql(
  lotSize: number,
  { spreadOhms }: Extract<PlanChoice, { kind: 'variables' }>,
  { level, aql, severity }: ByVariablesAql,
): TabulatedVariablesPlan {
  if (spreadOhms !== null) throw problem('spread-known-by-two-points');
  return variablesByAql({ lotSize, level, aql, severity });
}
