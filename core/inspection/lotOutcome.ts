import { shapeForVariables } from '../sampling/shapeForVariables.ts';
import { AQLS, singlePlan } from '../sampling/singlePlan.ts';
import type { SwitchingLot } from '../sampling/switching.ts';
import { sortedOf } from '../statistics/values.ts';
import { limitsOf, usualDigit, valuedOf } from './analysisOfRun.ts';
import type { LotFacts } from './event.ts';
import { outlook } from './outlook.ts';
import { isPractice, type Run } from './run.ts';

/** How a lot came out, as far as later lots of its part and supplier are judged by it. Plain data, kept beside the run. */
export interface LotOutcome {
  run: number;
  /** When it was decided first, ISO 8601. */
  decidedAt: string;
  part: string;
  supplier: string;
  practice: boolean;
  /** Null for a lot that was planned without a standard's tables: its severity says nothing. */
  switching: SwitchingLot | null;
  lot: string;
  reel: string;
  /** Why its values are not to be sampled by mean and spread; null where they may be, as far as they show. */
  shape: string | null;
}

/**
 * The outcome of a lot that was accepted or not accepted; null of one that is not, or on hold, and of a study. What counts is what its plan
 * says, whatever a person decided (MIL-STD-105E, 4.7: lots accepted or rejected on original inspection).
 */
export function lotOutcome(number: number, run: Run): LotOutcome | null {
  const { decided, plan, part, lot } = run;
  if (decided === null || decided.disposition === 'on-hold' || plan.choice.kind === 'study') return null;
  return {
    run: number,
    decidedAt: decided.firstAt,
    part: part.number,
    supplier: lot.supplier,
    practice: isPractice(run),
    switching: switchingLot(number, run),
    lot: lot.number,
    reel: lot.reel,
    shape: shapeWords(run),
  };
}

function shapeWords(run: Run): string | null {
  const valued = valuedOf(run);
  const shape = shapeForVariables(sortedOf(valued.map(({ value }) => value)), limitsOf(run.window), usualDigit(valued));
  return shape.allowed ? null : shape.why;
}

function switchingLot(number: number, run: Run): SwitchingLot | null {
  const { plan, tally, lot, switching } = run;
  const { choice } = plan;
  if (choice.kind !== 'aql' || switching === null) return null;
  const { severity, standard, aql } = choice;
  const second = plan.further?.kind === 'second-sample' ? plan.further : null;
  return {
    lot: lot.number,
    run: number,
    standard,
    severity,
    accepted: outlook(run) === 'accept',
    nonconforming: tally.nonconforming,
    sampled: tally.counted,
    plan: {
      aql,
      sampleSize: plan.sampleSize,
      accept: plan.accept,
      reject: plan.reject,
      second: second && { sampleSize: second.sampleSize, accept: second.accept, reject: second.reject },
      acceptedAtNextTighterAql: acceptedAtNextTighterAql(run),
    },
    offeredAgain: lot.offeredAgainAfter !== null,
    everyPiece: plan.everyPiece,
    override: overrideOf(run, severity, switching),
  };
}

/** Turning to reduced inspection where the rules allow it is a person's step as well. */
function overrideOf(
  { inspector }: Run,
  severity: SwitchingLot['severity'],
  { override, reducedAllowed }: NonNullable<LotFacts['switching']>,
): SwitchingLot['override'] {
  if (override) return { severity, ...override };
  if (severity !== 'reduced' || !reducedAllowed) return null;
  return { severity, by: inspector, reason: 'production is steady' };
}

/** Whether the sample would have passed at the next tighter AQL too (ISO 2859-1, 9.3.3.2); null where the table has another sample there. */
function acceptedAtNextTighterAql({ plan, tally }: Run): boolean | null {
  const { choice, planLetter, sampleSize } = plan;
  if (choice.kind !== 'aql' || planLetter === null) return null;
  const tighter = AQLS[AQLS.indexOf(choice.aql as (typeof AQLS)[number]) - 1];
  if (tighter === undefined) return null;
  const found = singlePlan(choice.standard, 'normal', planLetter, tighter);
  return found.sampleSize === sampleSize ? tally.nonconforming <= found.accept : null;
}
