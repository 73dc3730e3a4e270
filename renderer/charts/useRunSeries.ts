import { useLayoutEffect, useRef, useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { RunSeries } from './runSeries.ts';
import { useCoalesced } from './useCoalesced.ts';

/** What the charts of a run are drawn from, and the run whose readings are all in it. The series grows in place, its version with it. */
export interface Drawn {
  run: Run;
  series: RunSeries;
  version: number;
}

/**
 * What the charts of a run are drawn from; null before it is there. It follows the run at most every so many milliseconds: the figure
 * and the verdict never wait for it. A large run is taken in by several tasks and drawn when all of it is there, because a chart of
 * some of the readings would look like one of all.
 */
export function useRunSeries(run: Run, milliseconds: number): Drawn | null {
  const seen = useCoalesced(run, milliseconds);
  const series = useRef<RunSeries>(null);
  const [drawn, setDrawn] = useState<Drawn | null>(null);
  useLayoutEffect(() => {
    let next: ReturnType<typeof setTimeout> | null = null;
    const follow = () => {
      if (!series.current?.goesOn(seen)) series.current = new RunSeries(seen);
      if (series.current.takeIn(seen)) setDrawn({ run: seen, series: series.current, version: series.current.version });
      else next = setTimeout(follow);
    };
    follow();
    return () => {
      if (next !== null) clearTimeout(next);
    };
  }, [seen]);
  return drawn;
}
