import type { Stopping } from '../../core/inspection/event.ts';
import {
  FIRST_OF_SERIES,
  factsOf,
  type LotClaimInput,
  lotClaim,
  type Series,
  severityBy,
  withSeed,
} from '../../core/inspection/lotClaim.ts';
import { choiceOf, planClaim } from '../../core/inspection/planClaim.ts';
import { asProblem, type ProblemCode } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import type { Level } from '../../core/sampling/codeLetter.ts';
import { type Plan, planFor } from '../../core/sampling/plan.ts';
import type { Severity, Standard } from '../../core/sampling/singlePlan.ts';
import type { VariablesLevel } from '../../core/sampling/variablesPlan.ts';
import { type TemperatureFacts, temperatureFacts } from '../../core/uncertainty/temperatureFacts.ts';
import { type DecisionRule, decisionRule, MOST_GUARD_FACTOR } from '../../core/window/decisionRule.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { type Tolerance, type Window, windowOf } from '../../core/window/window.ts';
import { problemWords } from '../words/problemWords.ts';

/** The receiving form as it stands: what was typed and chosen, all as text. */
export interface Draft {
  inspector: string;
  partNumber: string;
  description: string;
  nominal: string;
  tolerance: string;
  lotNumber: string;
  supplier: string;
  reel: string;
  size: string;
  planBy: 'aql' | 'agreed' | 'zero-acceptance' | 'two-point' | 'variables' | 'every-piece';
  /** Where along the reel pieces are taken. The seed is drawn when the lot is received. */
  positions: 'random' | 'spread' | 'as-taken';
  level: Level;
  aql: string;
  standard: Standard;
  sampling: 'single' | 'double';
  /** `by-rule`: as the switching rules say; else somebody chose it. */
  severity: 'by-rule' | Severity;
  overrideBy: string;
  overrideReason: string;
  sampleSize: string;
  accept: string;
  acceptedPercent: string;
  producerRiskPercent: string;
  refusedPercent: string;
  consumerRiskPercent: string;
  countedOf: 'process' | 'lot';
  variablesBy: 'aql' | 'two-point';
  variablesLevel: VariablesLevel;
  variablesSeverity: 'normal' | 'tightened';
  knownSpread: string;
  acceptOfAll: string;
  /** Whether open, short and wrong values have an acceptance number of their own. */
  classes: 'told-apart' | 'alike';
  classAAccept: string;
  classABeyondPercent: string;
  stopping: Stopping;
  method: '2-wire' | '4-wire';
  range: 'window' | 'auto';
  integrationCycles: string;
  everyReadings: string;
  everyMinutes: string;
  ambientLowest: string;
  ambientHighest: string;
  rule: DecisionRule['rule'];
  /** A usual guard factor, or `own`: then it is the one that was typed. */
  guard: string;
  guardFactor: string;
  processSpread: string;
  referenceCelsius: TemperatureFacts['referenceCelsius'];
  coefficient: TemperatureFacts['coefficient']['kind'];
  knownPpm: string;
  knownWithinPpm: string;
  limitPpm: string;
  thermometerKelvins: string;
  ratedWatts: string;
}

export type DraftField = keyof Draft;

/** An empty form with the choices that are usual. */
export const EMPTY_DRAFT: Draft = {
  inspector: '',
  partNumber: '',
  description: '',
  nominal: '',
  tolerance: '',
  lotNumber: '',
  supplier: '',
  reel: '',
  size: '',
  planBy: 'aql',
  positions: 'random',
  level: 'II',
  aql: '1.0',
  standard: 'MIL-STD-105E',
  sampling: 'single',
  severity: 'by-rule',
  overrideBy: '',
  overrideReason: '',
  sampleSize: '',
  accept: '0',
  acceptedPercent: '1',
  producerRiskPercent: '5',
  refusedPercent: '6',
  consumerRiskPercent: '10',
  countedOf: 'process',
  variablesBy: 'aql',
  variablesLevel: 'IV',
  variablesSeverity: 'normal',
  knownSpread: '',
  acceptOfAll: '0',
  classes: 'told-apart',
  classAAccept: '0',
  classABeyondPercent: '5',
  stopping: 'when-refused',
  method: '2-wire',
  range: 'window',
  integrationCycles: '1',
  everyReadings: '50',
  everyMinutes: '240',
  ambientLowest: '18',
  ambientHighest: '28',
  rule: 'simple-acceptance',
  guard: '1',
  guardFactor: '',
  processSpread: '',
  referenceCelsius: '20',
  coefficient: 'unknown',
  knownPpm: '',
  knownWithinPpm: '',
  limitPpm: '',
  thermometerKelvins: '1',
  ratedWatts: '',
};

/** What the form means by now. */
export interface DraftRead {
  claim: LotClaimInput;
  size: number | null;
  tolerance: Tolerance | null;
  window: Window | null;
  plan: Plan | null;
  decision: DecisionRule | null;
  temperature: TemperatureFacts | null;
  /** What is wrong, by field. A field that is still empty is among them when it must not be. */
  problems: Partial<Record<DraftField, string>>;
}

const FIELD_OF_PATH: Record<string, DraftField> = {
  inspector: 'inspector',
  'part.number': 'partNumber',
  'part.description': 'description',
  'part.nominal': 'nominal',
  'part.tolerance': 'tolerance',
  'lot.number': 'lotNumber',
  'lot.supplier': 'supplier',
  'lot.reel': 'reel',
  'lot.size': 'size',
  'plan.aql': 'aql',
  'plan.level': 'level',
  'plan.sampleSize': 'sampleSize',
  'plan.accept': 'accept',
  'plan.override.by': 'overrideBy',
  'plan.override.reason': 'overrideReason',
  'plan.zeroAcceptance.refusedPercent': 'refusedPercent',
  'plan.zeroAcceptance.riskPercent': 'consumerRiskPercent',
  'plan.twoPoint.acceptedPercent': 'acceptedPercent',
  'plan.twoPoint.producerRiskPercent': 'producerRiskPercent',
  'plan.twoPoint.refusedPercent': 'refusedPercent',
  'plan.twoPoint.consumerRiskPercent': 'consumerRiskPercent',
  'plan.variables.aql': 'aql',
  'plan.variables.acceptedPercent': 'acceptedPercent',
  'plan.variables.producerRiskPercent': 'producerRiskPercent',
  'plan.variables.refusedPercent': 'refusedPercent',
  'plan.variables.consumerRiskPercent': 'consumerRiskPercent',
  'plan.variables.knownSpread': 'knownSpread',
  'plan.everyPiece.accept': 'acceptOfAll',
  'classA.accept': 'classAAccept',
  'classA.beyondPercent': 'classABeyondPercent',
  'measurement.method': 'method',
  'measurement.range': 'range',
  'measurement.integrationCycles': 'integrationCycles',
  'checks.everyReadings': 'everyReadings',
  'checks.everyMinutes': 'everyMinutes',
  'checks.ambientCelsius.lowest': 'ambientLowest',
  'checks.ambientCelsius.highest': 'ambientHighest',
  'decision.guardFactor': 'guardFactor',
  'decision.processSpread': 'processSpread',
  'temperature.coefficient.knownPpmPerKelvin': 'knownPpm',
  'temperature.coefficient.uncertaintyPpmPerKelvin': 'knownWithinPpm',
  'temperature.coefficient.limitPpmPerKelvin': 'limitPpm',
  'temperature.thermometerKelvins': 'thermometerKelvins',
  'part.ratedWatts': 'ratedWatts',
};

/** The field each problem of the window and the plan is shown beside. */
function fieldOfProblem(code: ProblemCode, draft: Draft): DraftField | undefined {
  // Of all pieces there is no sample to give.
  if (code === 'acceptance-number-impossible' && draft.planBy === 'every-piece') return 'acceptOfAll';
  if (code === 'spread-unreadable' && draft.planBy === 'variables' && draft.knownSpread.trim() !== '')
    return 'knownSpread';
  return FIELD_OF_PROBLEM[code];
}

const FIELD_OF_PROBLEM: Partial<Record<ProblemCode, DraftField>> = {
  'resistance-unreadable': 'nominal',
  'nominal-outside-window': 'nominal',
  'window-without-nominal': 'nominal',
  'tolerance-unreadable': 'tolerance',
  'tolerance-too-wide': 'tolerance',
  'window-upside-down': 'tolerance',
  'window-percent-of-zero': 'tolerance',
  'lot-empty': 'size',
  'sample-larger-than-lot': 'sampleSize',
  'acceptance-number-impossible': 'accept',
  'positions-too-many': 'sampleSize',
  'aql-unknown': 'aql',
  'aql-not-percent': 'aql',
  'level-unknown': 'level',
  'spread-unreadable': 'processSpread',
  'quality-percent-impossible': 'refusedPercent',
  'risk-percent-impossible': 'consumerRiskPercent',
  'points-not-apart': 'refusedPercent',
  'plan-too-large': 'refusedPercent',
  'variables-points-impossible': 'refusedPercent',
  'variables-aql-unknown': 'aql',
  'variables-plan-unconfirmed': 'aql',
  'variables-spread-impossible': 'knownSpread',
  'reduced-not-known': 'severity',
  'double-not-known': 'sampling',
  'severity-not-by-rule': 'overrideBy',
  'inspection-discontinued': 'overrideBy',
};

const PER_CENT = 'Per cent above 0 and below 100, like 0.65.';

/** What is said of these fields whatever is wrong with them. */
const OWN_WORDS: Partial<Record<DraftField, string>> = {
  size: 'A whole number of pieces, like 5000.',
  sampleSize: 'A whole number of pieces, like 20.',
  accept: 'A whole number of pieces, 0 or more.',
  acceptOfAll: 'A whole number of pieces, 0 or more.',
  classAAccept: 'A whole number of pieces, 0 or more.',
  classABeyondPercent: 'Per cent above 0 and below 100, like 5.',
  acceptedPercent: PER_CENT,
  producerRiskPercent: PER_CENT,
  refusedPercent: PER_CENT,
  consumerRiskPercent: PER_CENT,
  everyReadings: 'A whole number from 1 to 1000.',
  everyMinutes: 'A whole number from 1 to 1440.',
  guardFactor: `A number from 0 to ${MOST_GUARD_FACTOR}, like 1.2.`,
  knownPpm: 'A number of ppm for each kelvin, like 15 or -20.',
  knownWithinPpm: 'A number of ppm for each kelvin that is not negative, like 5.',
  limitPpm: 'A number of ppm for each kelvin that is not negative, like 100.',
  thermometerKelvins: 'A number of kelvins that is not negative, like 1.',
  ratedWatts: 'A number of watts above 0, like 0.25.',
};

/** Stands for the seed that is yet to be drawn: what a claim means is the same with any. */
const ANY_SEED = 0;

/** A count as typed, spaces between groups allowed; not a number where it is none. */
function countOf(text: string): number {
  const digits = text.replace(/[\s\u00a0\u202f]/g, '');
  return /^-?\d+$/.test(digits) ? Number(digits) : Number.NaN;
}

function claimOf(draft: Draft): LotClaimInput {
  return {
    inspector: draft.inspector,
    part: {
      number: draft.partNumber,
      description: draft.description,
      nominal: draft.nominal,
      tolerance: draft.tolerance,
      ...(draft.ratedWatts.trim() !== '' && { ratedWatts: draft.ratedWatts.trim() }),
    },
    lot: { number: draft.lotNumber, supplier: draft.supplier, reel: draft.reel, size: countOf(draft.size) },
    plan: planOf(draft),
    classA:
      draft.classes === 'alike'
        ? null
        : { accept: countOf(draft.classAAccept), beyondPercent: draft.classABeyondPercent.trim() },
    stopping: draft.stopping,
    positions: { kind: draft.positions },
    measurement: {
      method: draft.method,
      range: draft.range,
      integrationCycles: Number(draft.integrationCycles),
    },
    checks: {
      everyReadings: countOf(draft.everyReadings),
      everyMinutes: countOf(draft.everyMinutes),
      ambientCelsius: { lowest: draft.ambientLowest.trim(), highest: draft.ambientHighest.trim() },
    },
    decision: { rule: draft.rule, guardFactor: guardFactorOf(draft), processSpread: draft.processSpread },
    temperature: {
      referenceCelsius: draft.referenceCelsius,
      ...coefficientOf(draft),
      thermometerKelvins: draft.thermometerKelvins.trim(),
    },
  };
}

function planOf(draft: Draft): LotClaimInput['plan'] {
  const { aql, level, standard, sampling, severity } = draft;
  switch (draft.planBy) {
    case 'aql':
      return { aql, level, standard, sampling, ...(severity !== 'by-rule' && { severity }), ...overrideIn(draft) };
    case 'agreed':
      return { sampleSize: countOf(draft.sampleSize), accept: countOf(draft.accept) };
    case 'zero-acceptance': {
      const { refusedPercent, consumerRiskPercent: riskPercent } = draft;
      return { zeroAcceptance: { refusedPercent, riskPercent } };
    }
    case 'two-point':
      return { twoPoint: { ...pointsIn(draft), of: draft.countedOf } };
    case 'variables':
      return draft.variablesBy === 'aql'
        ? { variables: { aql, level: draft.variablesLevel, severity: draft.variablesSeverity } }
        : { variables: { ...pointsIn(draft), knownSpread: draft.knownSpread } };
    case 'every-piece':
      return { everyPiece: { accept: countOf(draft.acceptOfAll) } };
  }
}

function pointsIn({ acceptedPercent, producerRiskPercent, refusedPercent, consumerRiskPercent }: Draft) {
  return { acceptedPercent, producerRiskPercent, refusedPercent, consumerRiskPercent };
}

/** Nobody answers for another severity until both fields are filled in. */
function overrideIn({ overrideBy: by, overrideReason: reason }: Draft) {
  return by.trim() === '' && reason.trim() === '' ? {} : { override: { by, reason } };
}

/** The claim of a lot that is received: where every piece is measured there is nothing to draw, and pieces are taken as they come. */
export function asReceived({ claim, plan }: Pick<DraftRead, 'claim' | 'plan'>): LotClaimInput {
  return plan?.everyPiece ? { ...claim, positions: { kind: 'as-taken' } } : claim;
}

/** The guard factor as it counts; with simple acceptance none is asked for. */
export function guardFactorOf({ rule, guard, guardFactor }: Draft): string {
  if (rule === 'simple-acceptance') return EMPTY_DRAFT.guard;
  return guard === 'own' ? guardFactor.trim() : guard;
}

function coefficientOf(draft: Draft): Pick<NonNullable<LotClaimInput['temperature']>, 'coefficient'> {
  switch (draft.coefficient) {
    case 'unknown':
      return {};
    case 'known': {
      const [knownPpmPerKelvin, uncertaintyPpmPerKelvin] = [draft.knownPpm.trim(), draft.knownWithinPpm.trim()];
      return { coefficient: { knownPpmPerKelvin, uncertaintyPpmPerKelvin } };
    }
    case 'limit':
      return { coefficient: { limitPpmPerKelvin: draft.limitPpm.trim() } };
  }
}

/** What is typed of the temperature, where it makes sense. */
function temperatureOf(draft: Draft): TemperatureFacts | null {
  const { coefficient: kind, knownPpm, knownWithinPpm, limitPpm, referenceCelsius, thermometerKelvins } = draft;
  const coefficient =
    kind === 'known'
      ? { kind, ppmPerKelvin: knownPpm.trim(), uncertaintyPpmPerKelvin: knownWithinPpm.trim() }
      : kind === 'limit'
        ? { kind, ppmPerKelvin: limitPpm.trim() }
        : { kind };
  const read = temperatureFacts.safeParse({
    referenceCelsius,
    coefficient,
    thermometerKelvins: thermometerKelvins.trim(),
  });
  return read.data ?? null;
}

/**
 * Reads the form: the window and the plan as soon as their own fields make sense, and for every field what is wrong with
 * it, in the very words the station would use.
 */
export function readDraft(draft: Draft, series: Series = FIRST_OF_SERIES): DraftRead {
  const claim = claimOf(draft);
  const problems: DraftRead['problems'] = {};
  const attempt = attemptIn(draft, problems);

  const size = countOf(draft.size);
  const read = {
    claim,
    size: Number.isSafeInteger(size) && size > 0 ? size : null,
    tolerance: attempt(() => (draft.tolerance.trim() === '' ? null : parseTolerance(draft.tolerance))),
    window: null as Window | null,
    plan: null as Plan | null,
    decision: decisionRule.safeParse({ rule: draft.rule, guardFactor: guardFactorOf(draft) }).data ?? null,
    temperature: temperatureOf(draft),
    problems,
  };
  const nominal = attempt(() => (draft.nominal.trim() === '' ? null : parseOhms(draft.nominal)));
  const { tolerance } = read;
  if (tolerance && !problems.nominal) read.window = attempt(() => windowOf(nominal, tolerance));
  const plan = planClaim.safeParse(claim.plan).data;
  if (Number.isSafeInteger(size) && plan) {
    read.plan = attempt(() => planFor(size, choiceOf(plan, nominal, severityBy(series))));
  }

  const checked = lotClaim.safeParse(claim);
  if (!checked.success) addFaults(problems, checked.error.issues, draft);
  else attempt(() => factsOf(withSeed(checked.data, ANY_SEED), series));
  return read;
}

/** Doing something that may find a problem; the problem goes to its field. */
function attemptIn(draft: Draft, problems: DraftRead['problems']): <T>(read: () => T) => T | null {
  return (read) => {
    try {
      return read();
    } catch (thrown) {
      const found = asProblem(thrown);
      const field = fieldOfProblem(found.code, draft);
      if (!field) throw thrown;
      problems[field] ??= problemWords(found);
      return null;
    }
  };
}

/** The place of each plan in the union of them (core/inspection/planClaim.ts). */
const PLAN_PLACES: Record<Draft['planBy'], number> = {
  aql: 0,
  agreed: 1,
  'zero-acceptance': 2,
  'two-point': 3,
  variables: 4,
  'every-piece': 5,
};

/** Of a union the branch that is meant, so that its faults are told and not that none fits. */
function branchMeant(path: string, draft: Draft): number {
  if (path === 'plan') return PLAN_PLACES[draft.planBy];
  if (path === 'plan.variables') return draft.variablesBy === 'aql' ? 0 : 1;
  return draft.coefficient === 'known' ? 0 : 1;
}

interface Issue {
  path: readonly PropertyKey[];
  message: string;
  code?: string | undefined;
  errors?: readonly (readonly Issue[])[];
}

function addFaults(problems: DraftRead['problems'], issues: readonly Issue[], draft: Draft): void {
  for (const issue of issues) {
    const path = issue.path.join('.');
    const branch = issue.code === 'invalid_union' ? issue.errors?.[branchMeant(path, draft)] : undefined;
    if (branch && branch.length > 0) {
      addFaults(
        problems,
        branch.map((fault) => ({ ...fault, path: [...issue.path, ...fault.path] })),
        draft,
      );
      continue;
    }
    // That lowest and highest do not go together says nothing while one of them is no number.
    if (path === 'checks.ambientCelsius' && problems.ambientLowest) continue;
    const field = FIELD_OF_PATH[path];
    if (path === 'checks.ambientCelsius') problems.ambientHighest ??= 'Must be above the lower one.';
    if (field) problems[field] ??= OWN_WORDS[field] ?? sentence(issue.message);
  }
}
