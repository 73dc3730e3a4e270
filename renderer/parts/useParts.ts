import { useEffect, useState } from 'react';
import { indexParts, type PartsIndex } from '../../core/part/findParts.ts';
import type { PartInput } from '../../core/part/part.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from '../station/station.tsx';

/** The parts list as the station has it, ready for finding. */
export interface PartsKnown {
  parts: readonly PartInput[];
  index: PartsIndex;
}

/** The parts list; asked for anew whenever it was changed, by whomever. Null until it is there. */
export function useParts(): { known: PartsKnown | null; problem: Problem | null } {
  const { line, up } = useStation();
  const [known, setKnown] = useState<PartsKnown | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    if (!up) return;
    let current = true;
    let asked = 0;
    const ask = () => {
      asked += 1;
      const mine = asked;
      line.ask('parts', {}).then(
        (parts) => {
          if (!current || mine !== asked) return;
          setKnown({ parts, index: indexParts(parts) });
          setProblem(null);
        },
        (thrown) => current && setProblem(asProblem(thrown)),
      );
    };
    ask();
    const stop = line.listen((news) => {
      if (news.kind === 'parts') ask();
    });
    return () => {
      current = false;
      stop();
    };
  }, [line, up]);
  return { known, problem };
}
