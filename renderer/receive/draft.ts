import type * as z from 'zod';
import { factsOf, type LotClaimInput, lotClaim, withSeed } from '../../core/inspection/lotClaim.ts';
import { asProblem, type ProblemCode } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import type { Level } from '../../core/sampling/codeLetter.ts';
import { type Plan, type PlanChoice, planFor } from '../../core/sampling/plan.ts';
import { type TemperatureFacts, temperatureFacts } from '../../core/uncertainty/temperatureFacts.ts';
import { type DecisionRule, decisionRule, MOST_GUARD_FACTOR } from '../../core/window/decisionRule.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { type Tolerance, type Window, windowOf } from '../../core/window/window.ts';
import { problemWords } from '../words/problemWords.ts';
import { sentence } from '../words/sentence.ts';

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
  planBy: 'aql' | 'agreed';
  /** Where along the reel pieces are taken. The seed is drawn when the lot is received. */
  positions: 'random' | 'spread' | 'as-taken';
  level: Level;
  aql: string;
  sampleSize: string;
  accept: string;
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
  sampleSize: '',
  accept: '0',
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
};

/** What is said of these fields whatever is wrong with them. */
const OWN_WORDS: Partial<Record<DraftField, string>> = {
  size: 'A whole number of pieces, like 5000.',
  sampleSize: 'A whole number of pieces, like 20.',
  accept: 'A whole number of pieces, 0 or more.',
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
    plan:
      draft.planBy === 'aql'
        ? { aql: draft.aql, level: draft.level }
        : { sampleSize: countOf(draft.sampleSize), accept: countOf(draft.accept) },
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
export function readDraft(draft: Draft): DraftRead {
  const claim = claimOf(draft);
  const problems: DraftRead['problems'] = {};

  const size = countOf(draft.size);
  const read = {
    claim,
    size: Number.isSafeInteger(size) && size > 0 ? size : null,
    tolerance: attempt(() => (draft.tolerance.trim() === '' ? null : parseTolerance(draft.tolerance)), problems),
    window: null as Window | null,
    plan: null as Plan | null,
    decision: decisionRule.safeParse({ rule: draft.rule, guardFactor: guardFactorOf(draft) }).data ?? null,
    temperature: temperatureOf(draft),
    problems,
  };
  const nominal = attempt(() => (draft.nominal.trim() === '' ? null : parseOhms(draft.nominal)), problems);
  const { tolerance } = read;
  if (tolerance && !problems.nominal) read.window = attempt(() => windowOf(nominal, tolerance), problems);
  if (Number.isSafeInteger(size)) {
    const choice = choiceOf(draft);
    if (choice) read.plan = attempt(() => planFor(size, choice), problems);
  }

  const checked = lotClaim.safeParse(claim);
  if (!checked.success) addFaults(problems, checked.error, draft);
  else attempt(() => factsOf(withSeed(checked.data, ANY_SEED)), problems);
  return read;
}

function choiceOf(draft: Draft): PlanChoice | null {
  if (draft.planBy === 'aql') return { kind: 'aql', level: draft.level, aql: draft.aql };
  const [sampleSize, accept] = [countOf(draft.sampleSize), countOf(draft.accept)];
  return Number.isSafeInteger(sampleSize) && Number.isSafeInteger(accept)
    ? { kind: 'agreed', sampleSize, accept }
    : null;
}

/** Does something that may find a problem; the problem goes to its field. */
function attempt<T>(read: () => T, problems: DraftRead['problems']): T | null {
  try {
    return read();
  } catch (thrown) {
    const found = asProblem(thrown);
    const field = FIELD_OF_PROBLEM[found.code];
    if (!field) throw thrown;
    problems[field] ??= problemWords(found);
    return null;
  }
}

function addFaults(problems: DraftRead['problems'], error: z.ZodError, draft: Draft): void {
  for (const issue of error.issues) {
    const first = issue.path[0] === 'plan' ? draft.planBy === 'aql' : draft.coefficient === 'known';
    const branch = issue.code === 'invalid_union' ? issue.errors[first ? 0 : 1] : undefined;
    for (const fault of branch ?? [issue]) {
      const path = branch ? [...issue.path, ...fault.path] : fault.path;
      // That lowest and highest do not go together says nothing while one of them is no number.
      if (path.join('.') === 'checks.ambientCelsius' && problems.ambientLowest) continue;
      const field = FIELD_OF_PATH[path.join('.')];
      if (path.join('.') === 'checks.ambientCelsius') problems.ambientHighest ??= 'Must be above the lower one.';
      if (field) problems[field] ??= OWN_WORDS[field] ?? sentence(fault.message);
    }
  }
}
