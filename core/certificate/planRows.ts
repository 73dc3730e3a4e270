import type { LotFacts } from '../inspection/event.ts';
import type { Plan } from '../sampling/plan.ts';
import type { PositionsChoice } from '../sampling/positions.ts';
import { orderOf } from '../study/order.ts';
import type { StudyChoice } from '../study/studyPlan.ts';
import type { TemperatureFacts } from '../uncertainty/temperatureFacts.ts';
import { CHOSEN_BY, piecesRow, type Row, textRow } from './format.ts';

/** By what rule verdicts are given: it belongs to the plan. */
export function decisionRows({ rule, guardFactor, processSpreadOhms }: LotFacts['decision']): Row[] {
  return [
    textRow('decision', 'rule', rule),
    { row: 'decision', item: 'guard factor', number: guardFactor },
    { row: 'decision', item: 'process spread', ohms: processSpreadOhms ?? '' },
  ];
}

/** At what temperature the value is wanted and how the part moves with temperature. */
export function temperatureRows({ referenceCelsius, coefficient, thermometerKelvins }: TemperatureFacts): Row[] {
  return [
    { row: 'temperature', item: 'reference', celsius: referenceCelsius },
    textRow('temperature', 'coefficient', coefficient.kind),
    ...(coefficient.kind === 'unknown' ? [] : [ppmRow('coefficient in ppm per kelvin', coefficient.ppmPerKelvin)]),
    ...(coefficient.kind === 'known'
      ? [ppmRow('coefficient known within ppm per kelvin', coefficient.uncertaintyPpmPerKelvin)]
      : []),
    { row: 'temperature', item: 'ambient known within kelvins', number: thermometerKelvins },
  ];
}

function ppmRow(item: string, number: string): Row {
  return { row: 'temperature', item, number };
}

export function planRows(plan: Plan): Row[] {
  const { choice } = plan;
  if (choice.kind === 'study') return [...studyRows(plan, choice), ...orderRows(choice)];
  const byAql: Row[] =
    choice.kind === 'agreed'
      ? [textRow('plan', 'chosen by', CHOSEN_BY.agreed)]
      : [
          textRow('plan', 'chosen by', CHOSEN_BY.aql),
          textRow('plan', 'inspection level', choice.level),
          { row: 'plan', item: 'AQL', percent: choice.aql },
          textRow('plan', 'code letter', plan.codeLetter ?? ''),
          textRow('plan', 'plan letter', plan.planLetter ?? ''),
        ];
  return [
    ...byAql,
    piecesRow('plan', 'sample size', plan.sampleSize),
    piecesRow('plan', 'acceptance number', plan.accept),
    piecesRow('plan', 'rejection number', plan.reject),
    textRow('plan', 'every piece', plan.everyPiece ? 'yes' : 'no'),
  ];
}

/** Where along the reel the pieces of the sample were to be taken. */
export function positionsRows(positions: PositionsChoice): Row[] {
  const chosen = textRow('positions', 'chosen by', positions.kind);
  if (positions.kind !== 'random') return [chosen];
  return [chosen, { row: 'positions', item: 'seed', number: String(positions.seed) }];
}

function studyRows(plan: Plan, choice: StudyChoice): Row[] {
  const numberRow = (item: string, number: number): Row => ({ row: 'plan', item, number: String(number) });
  return [
    textRow('plan', 'chosen by', CHOSEN_BY.study),
    textRow('plan', 'design', choice.design),
    piecesRow('plan', 'pieces', choice.pieces),
    ...choice.operators.map((operator): Row => ({ row: 'plan', item: 'operator', by: operator })),
    numberRow('repeats', choice.repeats),
    numberRow('sessions', choice.sessions),
    numberRow('runs', choice.runs),
    numberRow('seed', choice.seed),
    { row: 'plan', item: 'reference value', ohms: choice.referenceOhms ?? '' },
    { row: 'plan', item: 'reference uncertainty, k = 2', ohms: choice.referenceUncertaintyOhms ?? '' },
    numberRow('turns', plan.sampleSize),
    textRow('plan', 'every piece', plan.everyPiece ? 'yes' : 'no'),
  ];
}

function orderRows(choice: StudyChoice): Row[] {
  return orderOf(choice).map(({ turn, piece, operator, repeat, session, run }) => ({
    row: 'order',
    item: String(turn),
    text: `repeat ${repeat}, session ${session}, run ${run}`,
    by: operator,
    piece: String(piece),
  }));
}
