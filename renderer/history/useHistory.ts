import { useCallback, useEffect, useRef, useState } from 'react';
import type { History } from '../../core/contract/contract.ts';
import { filtersOf } from '../../core/contract/historyWords.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from '../station/station.tsx';
import { wordsOf } from './query.ts';

/** Rows that are asked for first, so that they are there at once, and each time after. */
const FIRST = 50;
const FURTHER = 200;
/** Another screen may be measuring: the rows are looked up a few times in a while, not for each reading. */
const SETTLED_MILLISECONDS = 500;

/** The runs that are looked for, as far as they were asked for. */
export interface HistoryHere extends History {
  /** What they were looked for by. */
  query: string;
}

/**
 * The history by what stands in the address; the rows before stay until those of another address are there.
 * @returns `more` asks for the next rows, once at a time
 */
export function useHistory(query: string): {
  found: HistoryHere | null;
  problem: Problem | null;
  asking: boolean;
  more: () => void;
} {
  const { line, up } = useStation();
  const [found, setFound] = useState<HistoryHere | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [asking, setAsking] = useState(false);
  const [times, setTimes] = useState(0);
  const latest = useRef<HistoryHere | null>(null);
  latest.current = found;
  const isAskingMore = useRef(false);

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once more when something happened
  useEffect(() => {
    if (!up) return;
    let current = true;
    setAsking(true);
    const done = () => current && setAsking(false);
    line
      .ask('history', { ...filtersOf(wordsOf(query).words), most: FIRST })
      .then(
        (answer) => {
          if (!current) return;
          setFound({ ...answer, query });
          setProblem(null);
        },
        (thrown) => current && setProblem(asProblem(thrown)),
      )
      .finally(done);
    return () => {
      current = false;
    };
  }, [line, up, query, times]);

  useEffect(() => {
    let due: ReturnType<typeof setTimeout> | undefined;
    const stop = line.listen((news) => {
      // Who has read further down keeps the place.
      if (news.kind !== 'entry' || (latest.current?.rows.length ?? 0) > FIRST) return;
      clearTimeout(due);
      due = setTimeout(() => setTimes((before) => before + 1), SETTLED_MILLISECONDS);
    });
    return () => {
      clearTimeout(due);
      stop();
    };
  }, [line]);

  const more = useCallback(() => {
    const before = latest.current;
    if (before === null || before.next === null || isAskingMore.current) return;
    isAskingMore.current = true;
    line
      .ask('history', { ...filtersOf(wordsOf(before.query).words), after: before.next, most: FURTHER })
      .then(
        ({ rows, next, total }) => {
          // Looked for otherwise meanwhile, or begun again: these rows belong nowhere.
          if (latest.current !== before) return;
          setFound({ ...before, rows: [...before.rows, ...rows], next, total });
        },
        (thrown) => setProblem(asProblem(thrown)),
      )
      .finally(() => {
        isAskingMore.current = false;
      });
  }, [line]);

  return { found, problem, asking, more };
}
