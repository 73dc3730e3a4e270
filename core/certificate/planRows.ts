import type { LotFacts } from '../inspection/event.ts';
import type { Plan } from '../sampling/plan.ts';
import type { PlanChoice, PlanPoints } from '../sampling/planChoice.ts';
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
  return [
    textRow('plan', 'chosen by', CHOSEN_BY[choice.kind]),
    ...choiceRows(choice),
    ...(plan.codeLetter === null ? [] : [textRow('plan', 'code letter', plan.codeLetter)]),
    ...(plan.planLetter === null ? [] : [textRow('plan', 'plan letter', plan.planLetter)]),
    ...numberRows(plan),
    textRow('plan', 'every piece', plan.everyPiece ? 'yes' : 'no'),
  ];
}

/** What was asked for; the numbers follow from it and from the lot. */
function choiceRows(choice: Exclude<PlanChoice, StudyChoice>): Row[] {
  switch (choice.kind) {
    case 'aql':
      return [
        textRow('plan', 'standard', choice.standard),
        textRow('plan', 'inspection', choice.severity),
        textRow('plan', 'sampling', choice.sampling),
        ...aqlRows(choice),
      ];
    case 'zero-acceptance':
      return [percentRow('refused quality', choice.refusedPercent), percentRow("consumer's risk", choice.riskPercent)];
    case 'two-point':
      return [...pointRows(choice), textRow('plan', 'counted of', choice.of)];
    case 'variables':
      return [
        ...(choice.by.kind === 'aql'
          ? [textRow('plan', 'inspection', choice.by.severity), ...aqlRows(choice.by)]
          : pointRows(choice.by)),
        textRow('plan', 'spread', choice.spreadOhms === null ? 'of the sample' : 'known'),
        { row: 'plan', item: 'known spread', ohms: choice.spreadOhms ?? '' },
      ];
    case 'agreed':
    case 'every-piece':
      return [];
  }
}

function aqlRows({ level, aql }: { level: string; aql: string }): Row[] {
  return [textRow('plan', 'inspection level', level), percentRow('AQL', aql)];
}

function pointRows(points: PlanPoints): Row[] {
  return [
    percentRow('accepted quality', points.acceptedPercent),
    percentRow("producer's risk", points.producerRiskPercent),
    percentRow('refused quality', points.refusedPercent),
    percentRow("consumer's risk", points.consumerRiskPercent),
  ];
}

function percentRow(item: string, percent: string): Row {
  return { row: 'plan', item, percent };
}

function numberRows({ sampleSize, accept, reject, further, variables }: Plan): Row[] {
  return [
    piecesRow('plan', 'sample size', sampleSize),
    ...(variables === null ? [] : [{ row: 'plan', item: 'acceptability constant k', number: variables.k } as const]),
    piecesRow('plan', 'acceptance number', accept),
    piecesRow('plan', 'rejection number', reject),
    ...(further === null
      ? []
      : [
          textRow('plan', 'further pieces', further.kind),
          piecesRow('plan', 'further pieces, how many', further.sampleSize),
          piecesRow('plan', 'further pieces, acceptance number', further.accept),
          piecesRow('plan', 'further pieces, rejection number', further.reject),
        ]),
  ];
}

/** Which pieces are told apart as class A, and when measuring may end before the sample is complete. */
export function classRows({ classA, stopping }: Pick<LotFacts, 'classA' | 'stopping'>): Row[] {
  return [
    textRow('plan', 'class A', classA === null ? 'not told apart' : 'open, short or wrong value'),
    ...(classA === null
      ? []
      : [
          piecesRow('plan', 'class A, acceptance number', classA.accept),
          percentRow('class A, wrong value beyond a limit by', classA.beyondPercent),
        ]),
    textRow('plan', 'measuring ends early', stopping),
  ];
}

/** How inspection of these lots stood by the switching rules. */
export function switchingRows({ switching, lot }: Pick<LotFacts, 'switching' | 'lot'>): Row[] {
  const again = lot.offeredAgainAfter;
  const rows: Row[] = [
    { row: 'switching', item: 'offered again after run', number: again === null ? '' : String(again) },
  ];
  if (switching === null) return rows;
  const { severity, reducedAllowed, score, why, behind, override } = switching;
  rows.push(
    textRow('switching', 'by the rules', severity),
    textRow('switching', 'reduced may be chosen', reducedAllowed ? 'yes' : 'no'),
    { row: 'switching', item: 'score', number: score === null ? '' : String(score) },
    textRow('switching', 'why', why),
    textRow('switching', 'rests on runs', behind.join(' ')),
  );
  if (override) rows.push({ row: 'switching', item: 'overridden', text: override.reason, by: override.by });
  return rows;
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
