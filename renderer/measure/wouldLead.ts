import { turnOf } from '../../core/study/order.ts';
import type { StudyChoice } from '../../core/study/studyPlan.ts';

/**
 * Whether the value of a turn, still on the screen, would lead who takes the next one: it is the same piece again, or another
 * operator who should not know what the one before found.
 */
export function wouldLead(choice: StudyChoice, shownTurn: number, nextTurn: number): boolean {
  const [shown, next] = [turnOf(choice, shownTurn), turnOf(choice, nextTurn)];
  return shown.piece === next.piece || shown.operator !== next.operator;
}
