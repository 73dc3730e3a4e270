import { useEffect, useState } from 'react';
import type { Answers, News, Question, RequestName } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from './station.tsx';

/** Another screen may be measuring: looked up a few times a second, not for each reading. */
const PAUSE_MILLISECONDS = 300;

/**
 * What the station answers, looked up again whenever something happened that may change it.
 * @param question the same object as long as the same is asked
 * @param happened the kind of news that may change it
 */
export function useLookedUp<N extends RequestName>(
  name: N,
  question: Question<N>,
  happened: News['kind'],
): { found: Answers[N] | null; problem: Problem | null } {
  const { line, up } = useStation();
  const [found, setFound] = useState<Answers[N] | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    if (!up) return;
    let current = true;
    let due: ReturnType<typeof setTimeout> | undefined;
    const look = () =>
      line.ask(name, question).then(
        (answer) => {
          if (current) setFound(answer);
        },
        (thrown) => {
          if (current) setProblem(asProblem(thrown));
        },
      );
    look();
    const stop = line.listen((news) => {
      if (news.kind !== happened) return;
      clearTimeout(due);
      due = setTimeout(look, PAUSE_MILLISECONDS);
    });
    return () => {
      current = false;
      clearTimeout(due);
      stop();
    };
  }, [line, up, name, question, happened]);
  return { found, problem };
}
