import type { Run } from '../../core/inspection/run.ts';
import { type Turn, turnOf } from '../../core/study/order.ts';

/** What is measured at a turn of a study; null in an inspection of a lot. */
export function turnAt({ plan: { choice } }: Run, turn: number): Turn | null {
  return choice.kind === 'study' ? turnOf(choice, turn) : null;
}

/** Such a turn in words, like `piece 4, operator B, repeat 2`. */
export function turnWords({ plan: { choice } }: Run, { piece, operator, repeat, session, run }: Turn): string {
  if (choice.kind !== 'study' || choice.design === 'crossed') {
    return `piece ${piece}, operator ${operator}, repeat ${repeat}`;
  }
  const when = [...(choice.runs > 1 ? [`run ${run}`] : []), ...(choice.sessions > 1 ? [`session ${session}`] : [])];
  return [`piece ${piece}`, ...when, `repeat ${repeat}`].join(', ');
}
