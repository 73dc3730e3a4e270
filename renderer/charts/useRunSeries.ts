import { useLayoutEffect, useMemo, useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { RunSeries } from './runSeries.ts';
import { useCoalesced } from './useCoalesced.ts';

/**
 * What the charts of a run are drawn from, and the run as it was when they were drawn last. It follows the run at most every so
 * many milliseconds, in a task of its own: the figure and the verdict never wait for it.
 */
export function useRunSeries(run: Run, milliseconds: number) {
  const seen = useCoalesced(run, milliseconds);
  const { window } = seen;
  const series = useMemo(() => new RunSeries(window), [window]);
  const [drawn, setDrawn] = useState({ series, version: 0 });
  useLayoutEffect(() => {
    let next: ReturnType<typeof setTimeout> | null = null;
    const follow = () => {
      if (!series.follow(seen)) next = setTimeout(follow);
      const { version } = series;
      setDrawn((before) => (before.series === series && before.version === version ? before : { series, version }));
    };
    follow();
    return () => {
      if (next !== null) clearTimeout(next);
    };
  }, [series, seen]);
  return { seen, ...drawn };
}
