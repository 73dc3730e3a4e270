import { useCallback, useEffect, useRef, useState } from 'react';
import type { CaptureOverrides, LiveBy } from '../../core/contract/live.ts';
import { asProblem, type ProblemText, problem } from '../../core/problem/problem.ts';
import { useStation } from '../station/station.tsx';

/** A capture as the measuring screen holds it. */
export interface CaptureHeld {
  /** Every parameter of the capture in words; empty until it has begun. */
  words: readonly string[];
  /** What ended it, or why it could not begin; null while nothing did. */
  ended: ProblemText | null;
  /** What went wrong at the probes since the last piece, in words; null while nothing did. */
  trouble: string | null;
  /** Begins anew after something ended it. */
  goOn: () => void;
}

/** Somebody at another screen ended it; it does not begin again behind their back. */
const endedElsewhere = () => problem('capture-ended', 'another screen of this station ended it');

/**
 * Keeps a capture of a run going for as long as it is wanted.
 * @param by null: none is wanted
 * @param mayRun false pauses it: a dialog is open, or no reading can be taken
 * @param overrides what is set otherwise than it follows from the run
 */
export function useCapture(run: number, by: LiveBy | null, mayRun: boolean, overrides: CaptureOverrides): CaptureHeld {
  const { line, live } = useStation();
  const [words, setWords] = useState<readonly string[]>([]);
  const [ended, setEnded] = useState<ProblemText | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  /** Questions are asked one after the other, so that an end never overtakes the beginning after it. */
  const asked = useRef<Promise<unknown>>(Promise.resolve());
  const setting = JSON.stringify(overrides);
  const runs = by !== null && mayRun && ended === null;

  // Whatever kept it from running is past: it begins anew.
  // biome-ignore lint/correctness/useExhaustiveDependencies: on each of these
  useEffect(() => setEnded(null), [by, mayRun, setting]);

  useEffect(() => {
    if (!runs || by === null) return;
    let current = true;
    let begun = false;
    setTrouble(null);
    asked.current = asked.current.then(async () => {
      if (!current) return;
      try {
        const started = await line.ask('start-capture', { run, by, setting: JSON.parse(setting) });
        begun = true;
        if (current) setWords(started.words);
      } catch (thrown) {
        if (current) setEnded(asProblem(thrown));
      }
    });
    const stopListening = live.listen(() => {
      const now = live.latest;
      if (!begun || now?.run !== run) return;
      if (now.phase === 'off') setEnded(now.why ?? endedElsewhere());
      else if (now.outcome === 'trouble') setTrouble(now.troubleWords ?? '');
      else if (now.outcome !== undefined && now.outcome !== 'released') setTrouble(null);
    });
    return () => {
      current = false;
      stopListening();
      // What ended by itself needs no end; asking for one all the same does no harm.
      asked.current = asked.current.then(() => line.ask('stop-capture', {}).catch(() => undefined));
    };
  }, [line, live, run, by, runs, setting]);

  const goOn = useCallback(() => setEnded(null), []);
  return { words, ended, trouble, goOn };
}
