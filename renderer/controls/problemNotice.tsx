import type { ProblemText } from '../../core/problem/problem.ts';
import './problemNotice.css';

/** What went wrong and what to do, where it is needed. `strong` is for what stops the work. */
export function ProblemNotice(props: { problem: ProblemText | null; strong?: boolean }) {
  if (!props.problem) return null;
  return (
    <div className={props.strong ? 'problem problem-strong' : 'problem'} role="alert">
      <p>
        <strong>{props.problem.what}.</strong> {props.problem.toDo}
      </p>
    </div>
  );
}
