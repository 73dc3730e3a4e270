import { checked } from '../contract/invalid.ts';
import { type LotFacts, STOPPING } from '../inspection/event.ts';
import { type Plan, planFor } from '../sampling/plan.ts';
import { type PlanChoice, planChoice } from '../sampling/planChoice.ts';
import { mustBeDrawable, type PositionsChoice, positionsChoice, type Sampled } from '../sampling/positions.ts';
import { SEVERITIES } from '../sampling/singlePlan.ts';
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
  const words = chosen.oneOf('text', Object.values(CHOSEN_BY));
  const kind = (Object.keys(CHOSEN_BY) as (keyof typeof CHOSEN_BY)[]).find((each) => CHOSEN_BY[each] === words);
  if (kind === 'study') {
    const choice = readStudy(rows);
    const plan = chosen.holds(() => planFor(lotSize, checked<StudyChoice>('the study', studyChoice, choice)));
    for (const _ of rows.all('order'));
    return plan;
  }
  const asked = { kind, ...readAsked(rows, kind as Counted) };
  const numbers = readNumbers(rows);
  const choice =
    kind === 'agreed' ? { kind, ...numbers } : kind === 'every-piece' ? { ...asked, accept: numbers.accept } : asked;
  return chosen.holds(() => planFor(lotSize, checked<PlanChoice>('the plan', planChoice, choice)));
}

type Counted = Exclude<keyof typeof CHOSEN_BY, 'study'>;

/** What was asked for, as far as rows of its own say it. */
function readAsked(rows: RowReader, kind: Counted): object {
  const text = (item: string) => rows.take('plan', item).value('text');
  const percent = (item: string) => rows.take('plan', item).decimal('percent');
  const byAql = () => ({ level: text('inspection level'), aql: percent('AQL') });
  const byPoints = () => ({
    acceptedPercent: percent('accepted quality'),
    producerRiskPercent: percent("producer's risk"),
    refusedPercent: percent('refused quality'),
    consumerRiskPercent: percent("consumer's risk"),
  });
  switch (kind) {
    case 'aql':
      return { standard: text('standard'), severity: text('inspection'), sampling: text('sampling'), ...byAql() };
    case 'zero-acceptance':
      return { refusedPercent: percent('refused quality'), riskPercent: percent("consumer's risk") };
    case 'two-point':
      return { ...byPoints(), of: text('counted of') };
    case 'variables': {
      const by = rows.peek().is('plan', 'inspection')
        ? { kind: 'aql', severity: text('inspection'), ...byAql() }
        : { kind: 'two-point', ...byPoints() };
      rows.take('plan', 'spread').oneOf('text', ['of the sample', 'known']);
      return { by, spreadOhms: rows.take('plan', 'known spread').decimalOrNone('ohms') };
    }
    case 'agreed':
    case 'every-piece':
      return {};
  }
}

/** @throws problem certificate-broken with the row */
export function readClasses(rows: RowReader): Pick<LotFacts, 'classA' | 'stopping'> {
  const told = rows.take('plan', 'class A').oneOf('text', ['not told apart', 'open, short or wrong value']);
  const classA =
    told === 'not told apart'
      ? null
      : {
          accept: rows.take('plan', 'class A, acceptance number').pieces(),
          beyondPercent: rows.take('plan', 'class A, wrong value beyond a limit by').decimal('percent'),
        };
  return { classA, stopping: rows.take('plan', 'measuring ends early').oneOf('text', STOPPING) };
}

/** How inspection stood: it rests on other lots, which no certificate of this one can show. @throws problem certificate-broken with the row */
export function readSwitching(rows: RowReader): { switching: LotFacts['switching']; offeredAgainAfter: number | null } {
  const again = rows.take('switching', 'offered again after run');
  const offeredAgainAfter = again.value('number') === '' ? null : again.pieces('number');
  if (!rows.peek().is('switching', 'by the rules')) return { switching: null, offeredAgainAfter };
  const severity = rows.take('switching', 'by the rules').oneOf('text', [...SEVERITIES, 'discontinued']);
  const reducedAllowed = rows.take('switching', 'reduced may be chosen').oneOf('text', ['yes', 'no']) === 'yes';
  const score = rows.take('switching', 'score').decimalOrNone('number');
  const why = rows.take('switching', 'why').value('text');
  const rests = rows.take('switching', 'rests on runs');
  const behind = rests.value('text') === '' ? [] : rests.value('text').split(' ').map(Number);
  if (!behind.every((run) => Number.isSafeInteger(run) && run > 0)) throw rests.broken('a run has no number');
  const overridden = rows.peek().is('switching', 'overridden') ? rows.take('switching', 'overridden') : null;
  const override = overridden && { by: overridden.named('by'), reason: overridden.value('text') };
  const switching = { severity, reducedAllowed, score: score === null ? null : Number(score), why, behind, override };
  return { switching, offeredAgainAfter };
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

/** Numbers that follow from what was asked for, but for agreed ones. */
function readNumbers(rows: RowReader): { sampleSize: number; accept: number } {
  for (const letter of ['code letter', 'plan letter']) for (const _ of rows.all('plan', letter));
  const sampleSize = rows.take('plan', 'sample size').pieces();
  for (const _ of rows.all('plan', 'acceptability constant k'));
  const accept = rows.take('plan', 'acceptance number').pieces();
  rows.take('plan', 'rejection number');
  for (const item of FURTHER) for (const _ of rows.all('plan', item));
  rows.take('plan', 'every piece');
  return { sampleSize, accept };
}

const FURTHER = [
  'further pieces',
  'further pieces, how many',
  'further pieces, acceptance number',
  'further pieces, rejection number',
];

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
