import { useEffect, useRef, useState } from 'react';
import type { LeavesAt } from '../../core/drift/reelTrend.ts';
import type { RunningTrend } from '../../core/drift/runningTrend.ts';
import type { Run } from '../../core/inspection/run.ts';
import { useCoalesced } from '../charts/useCoalesced.ts';

/** The verdict never waits for the trend. */
const LOOK_MILLISECONDS = 1000;

// The statistics are fetched when they are first needed; without them there is only no warning.
const load = () =>
  Promise.all([import('../../core/drift/runningTrend.ts'), import('../../core/inspection/analysisOfRun.ts')]);

/**
 * Where the trend of the values so far leaves the window within the lot; null while none is shown that does. A trend that
 * stays inside is for the figures of the lot: looked for after every reading, chance alone would show one too often.
 */
export function useReelTrend(run: Run): LeavesAt | null {
  const { window, lot } = run;
  const readings = useCoalesced(run.readings, LOOK_MILLISECONDS);
  const [found, setFound] = useState<LeavesAt | null>(null);
  const trend = useRef<RunningTrend>(null);
  useEffect(() => {
    let current = true;
    load().then(
      ([{ RunningTrend }, { limitsOf, valuedOf }]) => {
        if (!current) return;
        trend.current ??= new RunningTrend();
        const valued = valuedOf({ readings });
        const values = valued.map(({ value }) => value);
        const pieces = valued.map(({ piece }) => piece);
        setFound(trend.current.leavesAt(values, pieces, limitsOf(window), lot.size));
      },
      () => undefined,
    );
    return () => {
      current = false;
    };
  }, [readings, window, lot.size]);
  return found;
}
