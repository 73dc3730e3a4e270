import { type ComponentProps, lazy, type ReactNode, Suspense } from 'react';
import '../charts/charts.css';

// The figures are read first; the chart library comes after them.
const Along = lazy(() => import('./alongChart.tsx'));
const Bins = lazy(() => import('./binsChart.tsx'));
const Meter = lazy(() => import('./meterChart.tsx'));

/** A chart with its title above it and its table below; its place is kept free until it is there. */
function Framed(props: { title: string; children: ReactNode; table: ReactNode }) {
  return (
    <figure className="chart figures-chart">
      <figcaption>{props.title}</figcaption>
      <Suspense fallback={<div className="chart-drawing" aria-busy="true" />}>{props.children}</Suspense>
      {props.table}
    </figure>
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
