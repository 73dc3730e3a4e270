import { memo, useMemo } from 'react';
import { expectedCount, type FittedNormal } from '../../core/statistics/expectedCount.ts';
import type { Window } from '../../core/window/window.ts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { countAxis } from '../charts/countAxis.ts';
import { barsPath, linePath } from '../charts/linePath.ts';
import { Plot, type PlotFrame, type PlotPlaces } from '../charts/plot.tsx';
import { limitText, windowText } from '../words/ohms.ts';
import type { DrawnBins } from './drawnBins.ts';

/** Points of the curve. */
const POINTS = 200;

/** How the readings of a lot lie, in bins that suit them, with the fitted curve, and the limits where they are near enough. */
const BinsChart = memo(function BinsChart(props: {
  bins: DrawnBins;
  fitted: FittedNormal | null;
  window: Window;
  n: number;
}) {
  const { bins, fitted, window, n } = props;
  const curve = useMemo(() => (fitted ? curveOf(bins, fitted) : []), [bins, fitted]);
  const frame = useMemo(() => frameOf(bins, curve, window), [bins, curve, window]);
  const layer = useMemo(
    () => (places: PlotPlaces) => {
      const base = places.y(0);
      const bars = bins.counts.map((count, index) => ({
        from: places.x(bins.from + index * bins.width) + 0.5,
        to: places.x(bins.from + (index + 1) * bins.width) - 0.5,
        height: base - places.y(count),
      }));
      return (
        <>
          <path className="chart-bars" d={barsPath(bars, base)} />
          {curve.length > 0 && (
            <path className="chart-curve" d={linePath(curve.map(([x, y]) => [places.x(x), places.y(y)]))} />
          )}
        </>
      );
    },
    [bins, curve],
  );
  return (
    <Plot
      frame={frame}
      layer={layer}
      spoken={`How ${n} readings lie, against the window ${windowText(window)}.${fitted ? ' The normal distribution of the same mean and standard deviation is drawn.' : ''} The table below has every count.`}
    />
  );
});

export default BinsChart;

type Curve = readonly (readonly [ohms: number, count: number])[];

function curveOf({ from, to, width }: DrawnBins, fitted: FittedNormal): Curve {
  return Array.from({ length: POINTS + 1 }, (_, index) => {
    const ohms = from + (index / POINTS) * (to - from);
    return [ohms, expectedCount(fitted, ohms, width)] as const;
  });
}

function frameOf(bins: DrawnBins, curve: Curve, window: Window): PlotFrame {
  const { counts, from, to } = bins;
  const axis = axisAround(from, to);
  const ticks = axis.ticks.filter((value) => value >= from && value <= to);
  const limits = [
    ...(window.lower !== null && bins.showsLower ? [{ at: window.lower, words: 'lower limit' }] : []),
    ...(window.upper !== null && bins.showsUpper ? [{ at: window.upper, words: 'upper limit' }] : []),
  ];
  return {
    x: { from, to, ticks: ticks.map((at) => ({ at, text: ohmsTick(at, axis) })) },
    y: countAxis(Math.max(...counts, ...curve.map(([, count]) => count))),
    levels: limits.map(({ at, words }) => ({
      on: 'x',
      at: Number(at),
      kind: 'limit',
      words: `${words} ${limitText(at, window)}`,
    })),
    bands: [],
    above: 40,
  };
}
