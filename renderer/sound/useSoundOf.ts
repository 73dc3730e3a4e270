import { useEffect, useRef } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { play } from './player.ts';
import { soundOf, TAKEN } from './sounds.ts';

/** Plays the verdict of every reading that comes into the run while it is open, and the trouble when it is interrupted. */
export function useSoundOf(run: Run | null, interrupted: boolean): void {
  const heard = useRef<number | null>(null);
  const wasInterrupted = useRef(interrupted);
  const readings = run?.readings;
  const study = run?.plan.choice.kind === 'study';
  useEffect(() => {
    if (!readings) return;
    const last = readings.last();
    // What was there when the run was opened is history.
    if (last && heard.current !== null && readings.size > heard.current) {
      play(study ? TAKEN : soundOf(last.verdict));
    }
    heard.current = readings.size;
  }, [readings, study]);
  useEffect(() => {
    if (interrupted && !wasInterrupted.current) play('trouble');
    wasInterrupted.current = interrupted;
  }, [interrupted]);
}
