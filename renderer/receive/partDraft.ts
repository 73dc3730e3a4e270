import type { PartInput } from '../../core/part/part.ts';
import { type Part, part } from '../../core/part/part.ts';
import { preferredAql } from '../../core/sampling/plan.ts';
import { GUARD_FACTORS } from '../../core/uncertainty/risk.ts';
import { type Draft, type DraftField, EMPTY_DRAFT, readDraft } from './draft.ts';

/** The fields of the receiving form that a part fills, by what they are called. */
export const PART_FIELDS = {
  partNumber: 'part number',
  description: 'description',
  supplier: 'supplier',
  nominal: 'nominal value',
  tolerance: 'tolerance',
  ratedWatts: 'rated power',
  planBy: 'sampling plan',
  aql: 'AQL',
  level: 'level',
  standard: 'standard of the plan',
  sampling: 'single or double sampling',
  sampleSize: 'pieces to measure',
  accept: 'nonconforming accepted',
  acceptedPercent: 'quality to be accepted',
  producerRiskPercent: "producer's risk",
  refusedPercent: 'quality to be refused',
  consumerRiskPercent: "consumer's risk",
  countedOf: 'what the risks are of',
  variablesBy: 'plan by variables',
  variablesLevel: 'level by variables',
  variablesSeverity: 'inspection by variables',
  knownSpread: 'known spread',
  acceptOfAll: 'nonconforming accepted of all',
  classes: 'wrong values and open pieces',
  classAAccept: 'wrong values and open pieces accepted',
  classABeyondPercent: 'what a wrong value is',
  stopping: 'when measuring ends early',
  method: 'method',
  range: 'range',
  integrationCycles: 'integration',
  everyReadings: 'checks after readings',
  everyMinutes: 'checks after minutes',
  ambientLowest: 'lowest ambient temperature',
  ambientHighest: 'highest ambient temperature',
  rule: 'decision rule',
  guard: 'width of the guard bands',
  guardFactor: 'width of the guard bands',
  processSpread: 'process spread',
  referenceCelsius: 'temperature of the values',
  coefficient: 'temperature coefficient',
  knownPpm: 'temperature coefficient',
  knownWithinPpm: 'uncertainty of the coefficient',
  limitPpm: 'limit of the coefficient',
  thermometerKelvins: 'thermometer',
  positions: 'positions',
} as const satisfies Partial<Record<DraftField, string>>;

type PartField = keyof typeof PART_FIELDS;
/** What a part says of the receiving form: every field that is its own, and none of the lot's. */
export type PartDraft = Pick<Draft, PartField>;

/** The fields of the receiving form as a part fills them. */
export function draftOfPart(known: Part): PartDraft {
  return {
    ...usualFields(),
    partNumber: known.number,
    description: known.description,
    supplier: known.supplier,
    nominal: known.nominal,
    tolerance: known.tolerance,
    ratedWatts: known.ratedWatts ?? '',
    ...planFields(known.plan),
    ...classFields(known),
    positions: known.positions,
    method: known.measurement.method,
    range: known.measurement.range,
    integrationCycles: String(known.measurement.integrationCycles),
    everyReadings: String(known.checks.everyReadings),
    everyMinutes: String(known.checks.everyMinutes),
    ambientLowest: known.checks.ambientCelsius.lowest,
    ambientHighest: known.checks.ambientCelsius.highest,
    rule: known.decision.rule,
    ...guardFields(known.decision.guardFactor),
    processSpread: known.decision.processSpread,
    referenceCelsius: known.temperature.referenceCelsius,
    ...coefficientFields(known.temperature.coefficient),
    thermometerKelvins: known.temperature.thermometerKelvins,
  };
}

function usualFields(): PartDraft {
  const fields = Object.keys(PART_FIELDS) as PartField[];
  return Object.fromEntries(fields.map((field) => [field, EMPTY_DRAFT[field]])) as unknown as PartDraft;
}

function planFields(plan: Part['plan']): Partial<PartDraft> {
  if ('aql' in plan) {
    const { level, standard, sampling } = plan;
    return { planBy: 'aql', aql: preferredAql(plan.aql), level, standard, sampling };
  }
  if ('zeroAcceptance' in plan) {
    const { refusedPercent, riskPercent: consumerRiskPercent } = plan.zeroAcceptance;
    return { planBy: 'zero-acceptance', refusedPercent, consumerRiskPercent };
  }
  if ('twoPoint' in plan) {
    const { of: countedOf, ...points } = plan.twoPoint;
    return { planBy: 'two-point', countedOf, ...points };
  }
  if ('everyPiece' in plan) return { planBy: 'every-piece', acceptOfAll: String(plan.everyPiece.accept) };
  if ('sampleSize' in plan) {
    return { planBy: 'agreed', sampleSize: String(plan.sampleSize), accept: String(plan.accept) };
  }
  const { variables } = plan;
  if ('aql' in variables) {
    const { aql, level, severity } = variables;
    return {
      planBy: 'variables',
      variablesBy: 'aql',
      aql: preferredAql(aql),
      variablesLevel: level,
      variablesSeverity: severity,
    };
  }
  return { planBy: 'variables', variablesBy: 'two-point', ...variables };
}

function classFields({ classA, stopping }: Part): Partial<PartDraft> {
  if (classA === null) return { classes: 'alike', stopping };
  return {
    classes: 'told-apart',
    classAAccept: String(classA.accept),
    classABeyondPercent: classA.beyondPercent,
    stopping,
  };
}

function guardFields(factor: string): Partial<PartDraft> {
  const isUsual = Number(factor) > 0 && GUARD_FACTORS.some((usual) => usual.factor === factor);
  return isUsual ? { guard: factor } : { guard: 'own', guardFactor: factor };
}

function coefficientFields(coefficient: Part['temperature']['coefficient']): Partial<PartDraft> {
  if (coefficient === undefined) return { coefficient: 'unknown' };
  if ('limitPpmPerKelvin' in coefficient) return { coefficient: 'limit', limitPpm: coefficient.limitPpmPerKelvin };
  const { knownPpmPerKelvin, uncertaintyPpmPerKelvin } = coefficient;
  return { coefficient: 'known', knownPpm: knownPpmPerKelvin, knownWithinPpm: uncertaintyPpmPerKelvin };
}

/** What the fields of the receiving form that are a part's are, and what is wrong with them. */
export interface PartRead {
  /** Null while something is wrong. */
  part: Part | null;
  problems: Partial<Record<DraftField, string>>;
}

/** What belongs to a lot only, filled in so that nothing of it is wrong. */
const OF_ONE_LOT = {
  inspector: '-',
  lotNumber: '-',
  reel: '',
  severity: 'by-rule',
  overrideBy: '',
  overrideReason: '',
} as const;

/** A lot that any AQL finds a sample in. */
const LARGE_LOT = '1000000';

/**
 * Reads the fields of the receiving form as a part.
 * @param reference the reference resistor that goes with it, which no lot's claim has
 */
export function readPart(draft: Draft, reference: string): PartRead {
  const size = draft.planBy === 'agreed' && Number(draft.sampleSize) >= 1 ? draft.sampleSize : LARGE_LOT;
  const asLot = { ...draft, ...OF_ONE_LOT, size };
  const { claim, problems } = readDraft(asLot);
  if (Object.keys(problems).length > 0) return { part: null, problems };
  const { part: itself, lot, inspector: _, positions, ...rest } = claim;
  const given = { ...rest, ...itself, positions: positions?.kind, supplier: lot.supplier, reference } as PartInput;
  return { part: part.safeParse(given).data ?? null, problems };
}

/** Which fields no longer say what the part says, in words, each once. */
export function changedSince(draft: Draft, from: PartDraft): string[] {
  const changed = (Object.keys(PART_FIELDS) as PartField[]).filter((field) => draft[field].trim() !== from[field]);
  return [...new Set(changed.map((field) => PART_FIELDS[field]))];
}

/** Whether nobody has entered anything yet that filling from a part would take away. */
export function isUntouched(draft: Draft, from: PartDraft | null): boolean {
  const { partNumber: _, ...fields } = PART_FIELDS;
  const before: PartDraft = from ?? usualFields();
  return (Object.keys(fields) as PartField[]).every((field) => draft[field] === before[field]);
}
