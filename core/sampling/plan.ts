import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type StudyChoice, turnsOf } from '../study/studyPlan.ts';
import { codeLetter, type Level } from './codeLetter.ts';
import { AQLS, normalPlan } from './normalPlan.ts';

/** How the sample is chosen: by AQL and level, or with numbers agreed for this lot. */
export type PlanChoice =
  | { kind: 'aql'; level: Level; aql: string }
  | { kind: 'agreed'; sampleSize: number; accept: number }
  /** A study of the measurement itself, which decides no lot. */
  | StudyChoice;

/** The plan of one lot: how many pieces are measured and how many nonconforming ones decide. */
export interface Plan {
  choice: PlanChoice;
  /** Code letter of the lot and the letter the arrows lead to; null for agreed numbers. */
  codeLetter: string | null;
  planLetter: string | null;
  sampleSize: number;
  accept: number;
  reject: number;
  /** The whole lot is measured because the plan asks for as many pieces as there are, or more. */
  everyPiece: boolean;
}

/** Largest AQL that counts nonconforming pieces in per cent; above it the standard counts nonconformities (MIL-STD-105E, 4.3). */
const LARGEST_PERCENT_AQL = '10';

/** The standard's own spelling of an AQL, so that `1`, `1.0` and `1.00` are one. @throws problem aql-unknown */
export function preferredAql(text: string): string {
  const found = /^\d+(\.\d+)?$/.test(text.trim()) ? AQLS.find((aql) => new Big(aql).eq(text.trim())) : undefined;
  if (found === undefined) throw problem('aql-unknown', text);
  return found;
}

/** A study asks for a reading at each of its turns and accepts or refuses nothing. */
function studyPlan(lotSize: number, choice: StudyChoice): Plan {
  const turns = turnsOf(choice);
  if (choice.pieces > lotSize) throw problem('sample-larger-than-lot', choice.pieces, lotSize);
  const everyPiece = choice.pieces === lotSize;
  return {
    choice,
    codeLetter: null,
    planLetter: null,
    sampleSize: turns,
    accept: turns,
    reject: turns + 1,
    everyPiece,
  };
}

/**
 * The plan for a lot. By AQL: MIL-STD-105E single sampling, normal inspection; a sample as large as the lot or larger
 * becomes the whole lot (Table II, note to the arrows) with the same acceptance number.
 * @param lotSize pieces, a whole number from 1 up
 * @throws problems of turnsOf; lot-empty, level-unknown, aql-unknown, aql-not-percent, sample-larger-than-lot, acceptance-number-impossible
 */
export function planFor(lotSize: number, choice: PlanChoice): Plan {
  if (!Number.isSafeInteger(lotSize) || lotSize < 1) throw problem('lot-empty', String(lotSize));
  if (choice.kind === 'study') return studyPlan(lotSize, choice);
  if (choice.kind === 'agreed') {
    const { sampleSize, accept } = choice;
    if (sampleSize > lotSize) throw problem('sample-larger-than-lot', sampleSize, lotSize);
    const whole = Number.isSafeInteger(sampleSize) && Number.isSafeInteger(accept);
    if (!whole || sampleSize < 1 || accept < 0 || accept >= sampleSize) {
      throw problem('acceptance-number-impossible', accept, sampleSize);
    }
    return {
      choice,
      codeLetter: null,
      planLetter: null,
      sampleSize,
      accept,
      reject: accept + 1,
      everyPiece: sampleSize === lotSize,
    };
  }
  const aql = preferredAql(choice.aql);
  if (new Big(aql).gt(LARGEST_PERCENT_AQL)) throw problem('aql-not-percent', aql);
  const letter = codeLetter(lotSize, choice.level);
  const single = normalPlan(letter, aql);
  const sampleSize = Math.min(single.sampleSize, lotSize);
  // Only for a lot of one piece, where the tables do not begin: a number that would accept it whatever it is.
  const accept = Math.min(single.accept, sampleSize - 1);
  return {
    choice: { ...choice, aql },
    codeLetter: letter,
    planLetter: single.letter,
    sampleSize,
    accept,
    reject: accept + 1,
    everyPiece: single.sampleSize >= lotSize,
  };
}
