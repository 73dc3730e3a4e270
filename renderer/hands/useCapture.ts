import { useCallback, useEffect, useRef, useState } from 'react';
import type { CaptureOverrides, LiveBy } from '../../core/contract/live.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { play } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { captureNews } from './captureNews.ts';

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
    /** The capture of this screen; null until it has begun. */
    let capture: number | null = null;
    const hear = () => {
      const news = capture === null ? null : captureNews(live.latest, capture);
      if (news === null) return;
      if ('trouble' in news) setTrouble(news.trouble);
      else {
        setEnded(news.ended);
        if (!news.isTold) play('trouble');
      }
    };
    setTrouble(null);
    asked.current = asked.current.then(async () => {
      if (!current) return;
      try {
        const started = await line.ask('start-capture', { run, by, setting: JSON.parse(setting) });
        capture = started.capture;
        if (!current) return;
        setWords(started.words);
        // It may have ended before the answer was here.
        hear();
      } catch (thrown) {
        if (current) setEnded(asProblem(thrown));
      }
    });
    const stopListening = live.listen(hear);
    return () => {
      current = false;
      stopListening();
      asked.current = asked.current.then(async () => {
        // By its number: meanwhile another screen's may have taken its place.
        if (capture !== null) await line.ask('stop-capture', { capture }).catch(() => undefined);
      });
    };
  }, [line, live, run, by, runs, setting]);

  const goOn = useCallback(() => setEnded(null), []);
  return { words, ended, trouble, goOn };
}
