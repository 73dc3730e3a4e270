import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Answers, Question, RequestName } from '../../core/contract/contract.ts';
import { asProblem } from '../../core/problem/problem.ts';
import type { Progress } from '../../core/progress/progress.ts';
import { useStation } from './station.tsx';

/** The requests that may take their time, are told as they go on, and can be stopped. */
export type LongRequest = {
  [N in RequestName]: 'work' extends keyof Question<N> ? N : never;
}[RequestName];

/** Work of the station that may take its time. */
export interface LongWork {
  /** Asked for here and not answered yet, or under way by the same name. */
  busy: boolean;
  /** How far it is; null until that is told. */
  progress: Progress | null;
  /** It was asked to stop and has not ended yet. */
  stopping: boolean;
  /** The last work was stopped. */
  stopped: boolean;
  /**
   * Asks for work; what this screen alone asked for before is stopped. Null where it was stopped.
   * @throws Problem of the station
   */
  ask<N extends LongRequest>(name: N, question: Question<N>): Promise<Answers[N] | null>;
  stop(): void;
  /** Stops what was asked for here without a word: nobody wants it any more. */
  drop(): void;
}

let lastName = 0;

/** A name for work that no other screen has, in no other window. */
function nameOfOwn(): string {
  lastName += 1;
  return `${lastName} ${Math.random().toString(36).slice(2)}`;
}

/**
 * Work that a screen asks for, one at a time.
 * @param shared its name where every screen that shows the same thing means the same work: then it is shown, and can be stopped, on
 *   each of them. Without one it is this screen's alone.
 */
export function useLongWork(shared?: string): LongWork {
  const { line, up } = useStation();
  const [own, setOwn] = useState(nameOfOwn);
  const work = shared ?? own;
  const [progress, setProgress] = useState<Progress | null>(null);
  /** What was asked for last and not answered yet. */
  const asked = useRef<string | null>(null);
  /** Work of the shared name goes on, as far as was heard. */
  const isHeard = useRef(false);
  const [isAsked, setIsAsked] = useState(false);
  const [ending, setEnding] = useState<'stopping' | 'stopped' | null>(null);
  const busy = isAsked || progress !== null;

  useEffect(() => {
    // Where the line dropped nothing is known of it.
    setProgress(null);
    isHeard.current = false;
    if (up === false) return;
    return line.listen((news) => {
      if (news.kind !== 'work' || news.work !== work) return;
      setProgress(news.progress);
      isHeard.current = news.progress !== null;
      // Of what was asked for here the answer says more.
      if (news.progress === null && asked.current === null) setEnding(news.stopped ? 'stopped' : null);
    });
  }, [line, up, work]);

  const stopWork = useCallback(
    (name: string) => void line.ask('stop-work', { work: name }).catch(() => undefined),
    [line],
  );
  const ask: LongWork['ask'] = useCallback(
    async (name, question) => {
      if (!shared && asked.current !== null) stopWork(asked.current);
      const work = shared ?? nameOfOwn();
      asked.current = work;
      setOwn(work);
      setIsAsked(true);
      setEnding(null);
      const isLatest = () => asked.current === work;
      try {
        const answer = await line.ask(name, { ...question, work });
        if (isLatest()) setEnding(null);
        return answer;
      } catch (thrown) {
        const found = asProblem(thrown);
        const isStopped = found.code === 'work-stopped';
        if (isLatest()) setEnding(isStopped ? 'stopped' : null);
        if (isStopped) return null;
        throw found;
      } finally {
        if (isLatest()) {
          asked.current = null;
          setIsAsked(false);
        }
      }
    },
    [line, shared, stopWork],
  );
  const stop = useCallback(() => {
    const name = asked.current ?? (isHeard.current ? shared : undefined);
    // Pressed while it ended: what became of it stands.
    if (name === undefined) return;
    setEnding('stopping');
    stopWork(name);
  }, [stopWork, shared]);
  const drop = useCallback(() => {
    if (asked.current === null) return;
    stopWork(asked.current);
    asked.current = null;
    setIsAsked(false);
  }, [stopWork]);

  return useMemo(
    () => ({
      busy,
      progress,
      stopping: busy && ending === 'stopping',
      stopped: !busy && ending === 'stopped',
      ask,
      stop,
      drop,
    }),
    [busy, progress, ending, ask, stop, drop],
  );
}
