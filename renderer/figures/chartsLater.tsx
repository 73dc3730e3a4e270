import { type ComponentProps, lazy, type ReactNode, Suspense } from 'react';
import { ChartFrame } from '../charts/chartFrame.tsx';

// The figures are read first; the chart library comes after them.
const Along = lazy(() => import('./alongChart.tsx'));
const Bins = lazy(() => import('./binsChart.tsx'));
const Meter = lazy(() => import('./meterChart.tsx'));
const ReelMap = lazy(() => import('./reelMapChart.tsx'));

/** A chart with its title above it and its table below; its place is kept free until it is there. */
function Framed(props: { title: string; children: ReactNode; table: ReactNode }) {
  return (
    <ChartFrame className="figures-chart" title={props.title} table={props.table}>
      <Suspense fallback={<div className="chart-drawing" aria-busy="true" />}>{props.children}</Suspense>
    </ChartFrame>
  );
}

type Frame = { title: string; table: ReactNode };

/** See {@link Along}. */
export function AlongFigure({ title, table, ...chart }: Frame & ComponentProps<typeof Along>) {
  return (
    <Framed title={title} table={table}>
      <Along {...chart} />
    </Framed>
  );
}

/** See {@link ReelMap}. */
export function ReelMapFigure({ title, table, ...chart }: Frame & ComponentProps<typeof ReelMap>) {
  return (
    <Framed title={title} table={table}>
      <ReelMap {...chart} />
    </Framed>
  );
}

/** See {@link Bins}. */
export function BinsFigure({ title, table, ...chart }: Frame & ComponentProps<typeof Bins>) {
  return (
    <Framed title={title} table={table}>
      <Bins {...chart} />
    </Framed>
  );
}

/** See {@link Meter}. */
export function MeterFigure({ title, table, ...chart }: Frame & ComponentProps<typeof Meter>) {
  return (
    <Framed title={title} table={table}>
      <Meter {...chart} />
    </Framed>
  );
}
