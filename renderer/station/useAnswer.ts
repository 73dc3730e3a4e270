import { useEffect, useState } from 'react';
import type { Answers, Question, RequestName } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from './station.tsx';

/** While somebody types, the station is not asked for every letter. */
const PAUSE_MILLISECONDS = 350;

/** What the station answered; null while nothing is asked, or nothing was answered yet. */
export type Answer<N extends RequestName> = { answer: Answers[N] } | { problem: Problem } | null;

/**
 * What the station makes of a question that changes while somebody types; asked anew when it was left alone for a moment.
 * @param question null: nothing is asked
 */
export function useAnswer<N extends RequestName>(name: N, question: Question<N> | null): Answer<N> {
  const { line, up } = useStation();
  const [found, setFound] = useState<Answer<N>>(null);
  // As a text, so that the same question in another object is not asked again.
  const asked = question && JSON.stringify(question);
  useEffect(() => {
    if (asked === null) return setFound(null);
    if (!up) return;
    let current = true;
    const due = setTimeout(() => {
      line.ask(name, JSON.parse(asked)).then(
        (answer) => current && setFound({ answer }),
        (thrown) => current && setFound({ problem: asProblem(thrown) }),
      );
    }, PAUSE_MILLISECONDS);
    return () => {
      current = false;
      clearTimeout(due);
    };
  }, [name, asked, line, up]);
  return found;
}
