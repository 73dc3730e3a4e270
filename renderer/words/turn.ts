import type { Plan } from '../../core/sampling/plan.ts';
import { turnOf } from '../../core/study/order.ts';
import type { StudyChoice } from '../../core/study/studyPlan.ts';
import { formatCount } from './count.ts';

/** What is measured: `piece 12`, or in a study `turn 12 of 90: piece 4, operator B, repeat 2`. */
export function pieceName(plan: Pick<Plan, 'choice' | 'sampleSize'>, number: number): string {
  const { choice } = plan;
  if (choice.kind !== 'study') return `piece ${formatCount(number)}`;
  return `turn ${formatCount(number)} of ${formatCount(plan.sampleSize)}: ${turnWords(choice, number)}`;
}

/** What is on the probes at a number of the plan: `piece 12`, in a study `piece 4` and not its turn. */
export function pieceOnProbes({ choice }: Pick<Plan, 'choice'>, number: number): string {
  return `piece ${formatCount(choice.kind === 'study' ? turnOf(choice, number).piece : number)}`;
}

/** What belongs to a turn of a study. Only what the study has more than one of is said beside piece and repeat. */
function turnWords(choice: StudyChoice, number: number): string {
  const { piece, operator, repeat, session, run } = turnOf(choice, number);
  return [
    `piece ${formatCount(piece)}`,
    choice.operators.length > 1 && `operator ${operator}`,
    `repeat ${repeat}`,
    choice.sessions > 1 && `session ${session}`,
    choice.runs > 1 && `run ${run}`,
  ]
    .filter((part) => part !== false)
    .join(', ');
}

/**
 * The operator who takes over at a turn of a study, at its first turn too; null where nobody does, and where there is only
 * one operator.
 */
export function takesOver(choice: StudyChoice, number: number): string | null {
  if (choice.operators.length < 2) return null;
  const { operator } = turnOf(choice, number);
  return number > 1 && turnOf(choice, number - 1).operator === operator ? null : operator;
}
