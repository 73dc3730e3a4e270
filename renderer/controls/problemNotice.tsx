import { useLayoutEffect, useRef } from 'react';
import type { ProblemText } from '../../core/problem/problem.ts';
import './problemNotice.css';

/** What went wrong and what to do, where it is needed. */
export function ProblemNotice(props: { problem: ProblemText | null }) {
  const notice = useRef<HTMLDivElement>(null);
  // What was pressed may stand at the lower end of the screen, and the notice below it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: on every new problem
  useLayoutEffect(() => {
    notice.current?.scrollIntoView({ block: 'nearest' });
  }, [props.problem]);
  if (!props.problem) return null;
  return (
    <div ref={notice} className="problem" role="alert">
      <p>
        <strong>{props.problem.what}.</strong> {props.problem.toDo}
      </p>
    </div>
  );
}
