import { Problem, type ProblemCode } from '../../core/problem/problem.ts';

/** What a line may do to a single answer. The reading is lost, and nothing else. */
const HICCUPS: ReadonlySet<ProblemCode> = new Set([
  'answer-garbled',
  'answer-not-a-number',
  'answer-out-of-step',
  'answer-too-long',
  'answer-unreadable',
  'line-echoes',
]);
/** More than so many in a row are no hiccup any more. */
const MOST_IN_A_ROW = 3;

/**
 * Whether live reading goes on after this: a line spoiled a single answer, and the next one says how things stand.
 * @param inARow how many there were, this one included
 */
export function isHiccup(thrown: unknown, inARow: number): thrown is Problem {
  return thrown instanceof Problem && HICCUPS.has(thrown.code) && inARow <= MOST_IN_A_ROW;
}
