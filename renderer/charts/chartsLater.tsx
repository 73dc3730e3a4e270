import { lazy, Suspense } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import './charts.css';

// The chart library is the larger half of the program's code; the figure and the verdict don't wait for it.
const load = () => import('./charts.tsx');
const Drawn = lazy(load);

/** Fetches the charts before they are needed, so that they are there with the first reading. */
export function prepareCharts(): void {
  void load();
}

/** The charts of a run; their place is kept free until they are there. */
export function Charts({ run }: { run: Run }) {
  return (
    <Suspense fallback={<div className="charts" aria-busy="true" />}>
      <Drawn run={run} />
    </Suspense>
  );
}
