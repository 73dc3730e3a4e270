import { type ComponentType, useEffect, useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { ChartsToCome } from './chartsToCome.tsx';

type Drawn = ComponentType<{ run: Run }>;

let drawn: Drawn | null = null;

/** The chart library is the larger half of the program's code; the figure and the verdict don't wait for it. */
async function load(): Promise<Drawn> {
  drawn = (await import('./charts.tsx')).default;
  return drawn;
}

/** Fetches the charts before they are needed, so that they are there with the first reading. */
export function prepareCharts(): void {
  void load();
}

/**
 * The charts of a run; their place is kept free until they are there. Without React's own waiting: that shows what it waited for
 * a third of a second late, also where it was there.
 */
export function Charts({ run }: { run: Run }) {
  const [Here, setHere] = useState<Drawn | null>(() => drawn);
  useEffect(() => {
    if (Here === null) void load().then((loaded) => setHere(() => loaded));
  }, [Here]);
  return Here === null ? <ChartsToCome /> : <Here run={run} />;
}
