import { type ComponentType, memo, useMemo } from 'react';
import type { FittedNormal } from '../../core/statistics/expectedCount.ts';
import { expectedCount } from '../../core/statistics/expectedCount.ts';
import type { Window } from '../../core/window/window.ts';
import { type Guard, guardBands } from '../windowBar/guardBands.ts';
import { windowScale } from '../windowBar/windowScale.ts';
import { acceptanceText } from '../words/decision.ts';
import { limitText, windowText } from '../words/ohms.ts';
import { countAxis } from './countAxis.ts';
import { type BinCounts, placeAlongBins } from './histogramBins.ts';
import { barsPath, linePath } from './linePath.ts';
import { Plot, type PlotFrame, type PlotPlaces, type Plotted } from './plot.tsx';

/** Points of the curve in each bin. */
const FINE = 4;

/**
 * How the readings that count lie in the window, and the normal distribution of the same mean and standard deviation. Bin edges
 * fall on the limits.
 * @param version of the bins, which change in place
 */
export const Histogram = memo(function Histogram(props: {
  counts: BinCounts;
  version: number;
  fitted: FittedNormal | null;
  window: Window;
  guard: Guard;
  /** What draws it, where it is not for the screen. */
  plot?: ComponentType<Plotted>;
}) {
  const { counts, version, fitted, window, guard, plot: Drawing = Plot } = props;
  const acceptance = acceptanceText(window, guard.decision, guard.expandedOhms);
  const within = acceptance === null ? '' : `; within the guard bands: ${acceptance}`;
  const curve = useMemo(() => (fitted ? curveOf(counts, fitted) : []), [counts, fitted]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the bins change in place, and their version with them
  const most = useMemo(
    () => Math.max(...counts.bins.map((bin) => bin.count), ...curve.map(([, count]) => count)),
    [counts, version, curve],
  );
  const frame = useMemo(() => frameOf(counts, most, window, guard), [counts, most, window, guard]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: likewise
  const layer = useMemo(
    () => (places: PlotPlaces) => <Bars counts={counts} curve={curve} places={places} />,
    [counts, version, curve],
  );
  return (
    <Drawing
      frame={frame}
      layer={layer}
      spoken={`How many of ${counts.n} readings lie at each value, against the window ${windowText(window)}${within}. The table below has every count.`}
    />
  );
});

type Curve = readonly (readonly [place: number, count: number])[];

function curveOf(counts: BinCounts, fitted: FittedNormal): Curve {
  return Array.from({ length: FINE * counts.bins.length + 1 }, (_, index) => {
    const place = index / FINE;
    return [place, expectedCount(fitted, counts.valueAt(place), counts.width)] as const;
  });
}

function frameOf({ bins, band }: BinCounts, most: number, window: Window, guard: Guard): PlotFrame {
  const scale = windowScale(window);
  const limits = [
    ...(window.lower === null ? [] : [{ at: band.first, text: limitText(window.lower, window) }]),
    ...(window.upper === null ? [] : [{ at: band.end, text: limitText(window.upper, window) }]),
  ];
  return {
    x: { from: 0, to: bins.length, ticks: limits },
    y: countAxis(most),
    levels: limits.map(({ at }) => ({ on: 'x', at, kind: 'limit' })),
    bands: guardBands(window, guard).map(({ from, to }) => ({
      on: 'x',
      from: fine(placeAlongBins(scale, from)),
      to: fine(placeAlongBins(scale, to)),
      kind: 'guard',
    })),
  };
}

/** Guard bands follow the uncertainty of each reading; so finely nobody sees them move. */
function fine(place: number): number {
  return Math.round(place * 50) / 50;
}

function Bars({ counts, curve, places }: { counts: BinCounts; curve: Curve; places: PlotPlaces }) {
  const { bins, band } = counts;
  const base = places.y(0);
  const bars = bins.map(({ count }, index) => ({
    from: places.x(index) + 0.5,
    to: places.x(index + 1) - 0.5,
    height: base - places.y(count),
  }));
  // Edges fall on the limits, so a bin lies inside or outside as a whole.
  const isInside = (index: number) => index >= band.first && index < band.end;
  return (
    <>
      <path
        className="chart-bars"
        d={barsPath(
          bars.filter((_, index) => isInside(index)),
          base,
        )}
      />
      <path
        className="chart-bars chart-bars-outside"
        d={barsPath(
          bars.filter((_, index) => !isInside(index)),
          base,
        )}
      />
      {curve.length > 0 && (
        <path className="chart-curve" d={linePath(curve.map(([place, count]) => [places.x(place), places.y(count)]))} />
      )}
    </>
  );
}
