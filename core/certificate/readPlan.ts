import { checked } from '../contract/invalid.ts';
import { LEVELS } from '../sampling/codeLetter.ts';
import { type Plan, planFor } from '../sampling/plan.ts';
import { mustBeDrawable, type PositionsChoice, positionsChoice, type Sampled } from '../sampling/positions.ts';
import { type StudyChoice, type StudyChoiceInput, studyChoice } from '../study/studyPlan.ts';
import { type TemperatureFacts, temperatureFacts } from '../uncertainty/temperatureFacts.ts';
import { type DecisionRule, decisionRule } from '../window/decisionRule.ts';
import { CHOSEN_BY } from './format.ts';
import type { RowReader } from './rowReader.ts';

/** @throws problem certificate-broken with the row */
export function readDecisionRule(rows: RowReader): DecisionRule {
  const first = rows.take('decision', 'rule');
  const rule = first.value('text');
  const factor = rows.take('decision', 'guard factor');
  const guardFactor = factor.decimal('number');
  const processSpreadOhms = rows.take('decision', 'process spread').decimalOrNone('ohms');
  return first.holds(() =>
    checked<DecisionRule>('the decision rule', decisionRule, { rule, guardFactor, processSpreadOhms }),
  );
}

/** @throws problem certificate-broken with the row */
export function readTemperature(rows: RowReader): TemperatureFacts {
  const reference = rows.take('temperature', 'reference');
  const referenceCelsius = reference.value('celsius');
  const kind = rows.take('temperature', 'coefficient').oneOf('text', ['unknown', 'known', 'limit']);
  const ppm = (item: string) => rows.take('temperature', item).decimal('number');
  const coefficient = {
    kind,
    ...(kind === 'unknown' ? {} : { ppmPerKelvin: ppm('coefficient in ppm per kelvin') }),
    ...(kind === 'known' ? { uncertaintyPpmPerKelvin: ppm('coefficient known within ppm per kelvin') } : {}),
  };
  const thermometerKelvins = rows.take('temperature', 'ambient known within kelvins').decimal('number');
  return reference.holds(() =>
    checked<TemperatureFacts>('the temperature', temperatureFacts, {
      referenceCelsius,
      coefficient,
      thermometerKelvins,
    }),
  );
}

/** The plan that follows from how it was chosen. @throws problem certificate-broken with the row */
export function readPlan(rows: RowReader, lotSize: number): Plan {
  const chosen = rows.take('plan', 'chosen by');
  const by = chosen.oneOf('text', Object.values(CHOSEN_BY));
  if (by === CHOSEN_BY.study) {
    const choice = readStudy(rows);
    const plan = chosen.holds(() => planFor(lotSize, checked<StudyChoice>('the study', studyChoice, choice)));
    // Nothing is taken from the order: it follows from the seed.
    for (const _ of rows.all('order'));
    return plan;
  }
  if (by === CHOSEN_BY.aql) {
    const level = rows.take('plan', 'inspection level').oneOf('text', LEVELS);
    const aql = rows.take('plan', 'AQL').decimal('percent');
    rows.take('plan', 'code letter');
    rows.take('plan', 'plan letter');
    readNumbers(rows);
    return chosen.holds(() => planFor(lotSize, { kind: 'aql', level, aql }));
  }
  const { sampleSize, accept } = readNumbers(rows);
  return chosen.holds(() => planFor(lotSize, { kind: 'agreed', sampleSize, accept }));
}

/**
 * How positions were chosen. Where each piece was asked for follows from it, and is worked out anew.
 * @throws problem certificate-broken with the row
 */
export function readPositions(rows: RowReader, sampled: Omit<Sampled, 'positions'>): PositionsChoice {
  const chosen = rows.take('positions', 'chosen by');
  const kind = chosen.oneOf('text', ['as-taken', 'random', 'spread']);
  const seed = kind === 'random' ? { seed: rows.take('positions', 'seed').pieces('number') } : {};
  return chosen.holds(() => {
    const positions = checked<PositionsChoice>('the positions', positionsChoice, { kind, ...seed });
    mustBeDrawable({ positions, ...sampled });
    return positions;
  });
}

function readNumbers(rows: RowReader): { sampleSize: number; accept: number } {
  const sampleSize = rows.take('plan', 'sample size').pieces();
  const accept = rows.take('plan', 'acceptance number').pieces();
  rows.take('plan', 'rejection number');
  rows.take('plan', 'every piece');
  return { sampleSize, accept };
}

function readStudy(rows: RowReader): StudyChoiceInput {
  const design = rows.take('plan', 'design').oneOf('text', ['crossed', 'single']);
  const pieces = rows.take('plan', 'pieces').pieces();
  const operators = Array.from(rows.all('plan', 'operator'), (row) => row.value('by'));
  const count = (item: string) => rows.take('plan', item).pieces('number');
  const choice: StudyChoiceInput = {
    kind: 'study',
    design,
    pieces,
    operators,
    repeats: count('repeats'),
    sessions: count('sessions'),
    runs: count('runs'),
    seed: count('seed'),
    referenceOhms: rows.take('plan', 'reference value').decimalOrNone('ohms'),
    referenceUncertaintyOhms: rows.take('plan', 'reference uncertainty, k = 2').decimalOrNone('ohms'),
  };
  rows.take('plan', 'turns');
  rows.take('plan', 'every piece');
  return choice;
}
