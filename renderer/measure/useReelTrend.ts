import { useEffect, useRef, useState } from 'react';
import type { LeavesAt } from '../../core/drift/reelTrend.ts';
import type { Run } from '../../core/inspection/run.ts';
import { useCoalesced } from '../charts/useCoalesced.ts';
import { TrendFollower } from './trendFollower.ts';

/** The verdict never waits for the trend. */
const LOOK_MILLISECONDS = 1000;

/**
 * Where the trend of the values so far leaves the window within the lot; null while none is shown that does. A trend that
 * stays inside is for the figures of the lot: looked for after every reading, chance alone would show one too often.
 * A worker works it out; where there is none, there is only no warning.
 */
export function useReelTrend(run: Run): LeavesAt | null {
  const seen = useCoalesced(run, LOOK_MILLISECONDS);
  const [found, setFound] = useState<LeavesAt | null>(null);
  const follower = useRef<TrendFollower>(null);
  useEffect(() => {
    const worker = new Worker(new URL('./trendWorker.ts', import.meta.url), { type: 'module' });
    follower.current = new TrendFollower(worker, setFound);
    return () => follower.current?.end();
  }, []);
  useEffect(() => follower.current?.follow(seen), [seen]);
  return found;
}
