import type { ProblemText } from '../../core/problem/problem.ts';

/** A problem as it stands beside a field: what is wrong and what to do. */
export function problemWords(problem: ProblemText): string {
  return `${problem.what}. ${problem.toDo}`;
}
