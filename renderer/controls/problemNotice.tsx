import type { ProblemText } from '../../core/problem/problem.ts';
import './problemNotice.css';

/** What went wrong and what to do, where it is needed. */
export function ProblemNotice(props: { problem: ProblemText | null }) {
  if (!props.problem) return null;
  return (
    <div className="problem" role="alert">
      <p>
        <strong>{props.problem.what}.</strong> {props.problem.toDo}
      </p>
    </div>
  );
}
