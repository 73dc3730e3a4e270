import { useEffect, useRef, useState } from 'react';
import type { Answers, Question } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from './station.tsx';
import { type LongRequest, type LongWork, useLongWork } from './useLongWork.ts';

/** While somebody types, the station is not asked for every letter. */
const PAUSE_MILLISECONDS = 350;

/** What the station answered; null while nothing is asked, or nothing was answered yet. */
export type Answer<N extends LongRequest> = { answer: Answers[N] } | { problem: Problem } | null;

/**
 * What the station makes of a question that changes while somebody types; asked anew when it was left alone for a moment. What is
 * wanted no more, because the question is another or the screen was left, is stopped.
 * @param question null: nothing is asked
 * @returns `again` asks once more what was stopped by hand
 */
export function useAnswer<N extends LongRequest>(
  name: N,
  question: Question<N> | null,
): { found: Answer<N>; work: LongWork; again: () => void } {
  const { up } = useStation();
  const work = useLongWork();
  const { ask, drop } = work;
  const [found, setFound] = useState<Answer<N>>(null);
  const [times, setTimes] = useState(0);
  const asked = useUnchanged(question);
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once more after it was stopped
  useEffect(() => {
    if (asked === null) return setFound(null);
    if (!up) return;
    let current = true;
    const due = setTimeout(() => {
      ask(name, asked).then(
        (answer) => current && setFound(answer && { answer }),
        (thrown) => current && setFound({ problem: asProblem(thrown) }),
      );
    }, PAUSE_MILLISECONDS);
    return () => {
      current = false;
      clearTimeout(due);
      drop();
    };
  }, [name, asked, ask, drop, up, times]);
  return { found, work, again: () => setTimes((before) => before + 1) };
}

/** The value as it was before, as long as it says the same. */
function useUnchanged<T>(value: T): T {
  const kept = useRef(value);
  if (!saysTheSame(kept.current, value)) kept.current = value;
  return kept.current;
}

/** Whether two plain values are equal. The text of a file is mostly the very same, which is seen without reading it. */
function saysTheSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const [ofA, ofB] = [Object.entries(a), Object.entries(b)];
  return ofA.length === ofB.length && ofA.every(([key, value]) => saysTheSame(value, b[key as keyof typeof b]));
}
