import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { exceededWith } from '../statistics/exceededWith.ts';
import { noncentralTQuantile } from '../statistics/noncentralT.ts';
import { TABLE_A_2, TABLE_B_1, VARIABLES_AQLS, VARIABLES_LEVELS, type VariablesLevel } from './variablesTable.ts';

export { VARIABLES_AQLS, VARIABLES_LEVELS, type VariablesLevel } from './variablesTable.ts';

/** A plan by mean and spread: accepted where each limit is at least k standard deviations from the mean (two limits: see judgeByVariables). */
export interface VariablesPlan {
  sampleSize: number;
  /** Acceptability constant, exact as it is decided with. */
  k: DecimalText;
}

/** Where a plan stands in the tables. */
export interface TabulatedVariablesPlan extends VariablesPlan {
  /** Code letter of the lot, and the one the arrows lead to. */
  letter: string;
  planLetter: string;
  /** The plan asks for as many pieces as there are, or more: all are measured and counted, and k decides nothing. */
  everyPiece: boolean;
}

/**
 * The plan for a lot by AQL, spread unknown (standard deviation method): MIL-STD-414 (11 June 1957), Tables A-2 and B-1. After an
 * arrow both the sample size and the k of the letter it leads to are used; sampleSize is at most the lot. Lots of 1 or 2 pieces, with
 * which the table does not begin, are read in its first row. Reduced inspection (Table B-2) and known spread (Table D-1) are not
 * offered by AQL: two sources of their figures were not to be had.
 * @param lotSize pieces, a whole number from 1 up
 * @param aql one of VARIABLES_AQLS
 * @throws problems lot-empty, variables-level-unknown, variables-aql-unknown, variables-plan-unconfirmed
 */
export function variablesByAql({
  lotSize,
  level,
  aql,
  severity,
}: {
  lotSize: number;
  level: VariablesLevel;
  aql: string;
  severity: 'normal' | 'tightened';
}): TabulatedVariablesPlan {
  const letter = variablesLetter(lotSize, level);
  const normal = VARIABLES_AQLS.indexOf(aql as (typeof VARIABLES_AQLS)[number]);
  const column = severity === 'tightened' ? normal - 1 : normal;
  if (normal < 0 || column < 0) throw problem('variables-aql-unknown', aql, severity);

  const start = TABLE_B_1.findIndex(([own]) => own === letter);
  for (const [planLetter, size, cells] of TABLE_B_1.slice(start)) {
    const k = cells.split(' ')[column] as string;
    if (k === 'down') continue;
    if (k === '?') throw problem('variables-plan-unconfirmed', planLetter, aql, severity);
    return { letter, planLetter, sampleSize: Math.min(size, lotSize), k, everyPiece: size >= lotSize };
  }
  throw new RangeError(`no plan below ${letter} at AQL ${aql}`);
}

/** @throws problems lot-empty, variables-level-unknown */
function variablesLetter(lotSize: number, level: VariablesLevel): string {
  if (!Number.isSafeInteger(lotSize) || lotSize < 1) throw problem('lot-empty', String(lotSize));
  const place = VARIABLES_LEVELS.indexOf(level);
  if (place < 0) throw problem('variables-level-unknown', level);
  return TABLE_A_2.find(([upTo]) => lotSize <= upTo)?.[1][place] as string;
}

/** Two qualities in per cent nonconforming and how often, in per cent, lots of them may be decided the wrong way. */
export interface VariablesPoints {
  acceptedPercent: DecimalText;
  /** At most so many lots of the accepted quality are not accepted. */
  producerRiskPercent: DecimalText;
  refusedPercent: DecimalText;
  /** At most so many lots of the refused quality are accepted. */
  consumerRiskPercent: DecimalText;
}

/**
 * The smallest sample that keeps both risks at one limit, and a k. At the smallest n there is an interval of k that does; its middle is
 * taken, rounded to as few decimals as lie inside, at least four, so that neither risk is used up to its edge.
 *
 * Spread unknown: the mean less k·s is distributed as a noncentral t (Lieberman and Resnikoff, Journal of the American Statistical
 * Association 50 (1955); ISO 3951-1, annex on the operating characteristic). Spread known: as a normal.
 * @throws problem variables-points-impossible
 */
export function variablesTwoPoint(points: VariablesPoints & { spread: 'unknown' | 'known' }): VariablesPlan {
  const sure = pointsOf(points);
  const range = (n: number) => (points.spread === 'known' ? whereKnown(sure, n) : whereUnknown(sure, n));
  const holds = (n: number) => width(range(n)) >= LEAST_WIDTH;

  let most: number = LEAST_SAMPLE[points.spread];
  let tooFew = most - 1;
  while (!holds(most)) {
    tooFew = most;
    most *= 2;
    if (tooFew >= MOST_SAMPLE) throw impossible(points, `they would take more than ${MOST_SAMPLE} pieces`);
  }
  while (most - tooFew > 1) {
    const middle = Math.floor((most + tooFew) / 2);
    if (holds(middle)) most = middle;
    else tooFew = middle;
  }
  if (most > MOST_SAMPLE) throw impossible(points, `they would take more than ${MOST_SAMPLE} pieces`);
  return { sampleSize: most, k: inside(range(most)) };
}

/** A spread needs two pieces, and its estimate of the fraction nonconforming three (n/2 - 1 above 0). */
const LEAST_SAMPLE = { unknown: 3, known: 2 } as const;

/** Our choice: no bench measures more for one lot. */
const MOST_SAMPLE = 100_000;

/** An interval of k narrower than this is not told from none by doubles. */
const LEAST_WIDTH = 1e-9;

const LEAST_DECIMALS = 4;

/** Standard normal deviates of the qualities, and chances of acceptance, all finite. */
interface Sure {
  zAccepted: number;
  zRefused: number;
  producerRisk: number;
  consumerRisk: number;
}

interface Range {
  from: number;
  to: number;
}

function whereUnknown({ zAccepted, zRefused, producerRisk, consumerRisk }: Sure, n: number): Range {
  const root = Math.sqrt(n);
  return {
    from: noncentralTQuantile(1 - consumerRisk, n - 1, zRefused * root) / root,
    to: noncentralTQuantile(producerRisk, n - 1, zAccepted * root) / root,
  };
}

function whereKnown({ zAccepted, zRefused, producerRisk, consumerRisk }: Sure, n: number): Range {
  const root = Math.sqrt(n);
  return {
    from: zRefused + exceededWith(consumerRisk) / root,
    to: zAccepted - exceededWith(producerRisk) / root,
  };
}

function width({ from, to }: Range): number {
  return to - from;
}

function inside({ from, to }: Range): DecimalText {
  const middle = from + (to - from) / 2;
  for (let decimals = LEAST_DECIMALS; ; decimals++) {
    const k = middle.toFixed(decimals);
    if (Number(k) > from && Number(k) < to) return k;
  }
}

function pointsOf(points: VariablesPoints): Sure {
  const share = (percent: DecimalText) => Number(percent) / 100;
  const [accepted, refused] = [share(points.acceptedPercent), share(points.refusedPercent)];
  const [producerRisk, consumerRisk] = [share(points.producerRiskPercent), share(points.consumerRiskPercent)];
  if (!(accepted > 0 && accepted < refused && refused < 1)) {
    throw impossible(points, 'the refused quality must be worse than the accepted one, both between 0 and 100 %');
  }
  if (!(producerRisk >= LEAST_RISK && consumerRisk >= LEAST_RISK && producerRisk + consumerRisk < 1)) {
    throw impossible(points, `each risk must be at least ${LEAST_RISK * 100} %, and both together below 100 %`);
  }
  return {
    zAccepted: exceededWith(accepted),
    zRefused: exceededWith(refused),
    producerRisk,
    consumerRisk,
  };
}

/** Below it 1 - risk loses its digits; our choice, far below any risk that is agreed. */
const LEAST_RISK = 1e-6;

function impossible(points: VariablesPoints, why: string) {
  const { acceptedPercent, producerRiskPercent, refusedPercent, consumerRiskPercent } = points;
  return problem(
    'variables-points-impossible',
    `${acceptedPercent} % at ${producerRiskPercent} % and ${refusedPercent} % at ${consumerRiskPercent} %`,
    why,
  );
}
