import { type ComponentType, memo, useMemo } from 'react';
import type { Left } from '../../core/chart/thinned.ts';
import type { View } from '../../core/chart/view.ts';
import type { Window } from '../../core/window/window.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import type { Guard } from '../windowBar/guardBands.ts';
import { acceptanceText } from '../words/decision.ts';
import { limitText, unitValue } from '../words/ohms.ts';
import { linePath } from './linePath.ts';
import { placeAxis } from './placeTicks.ts';
import { isDense, Plot, type PlotPlaces, type Plotted } from './plot.tsx';
import { isMarked, type RunSeries } from './runSeries.ts';
import { windowFrame } from './windowFrame.ts';

/** A line through more points than this looks no different, and costs. */
const MOST_POINTS = 1600;
/** Readings out of the window are kept in the line up to so many; of more, the extremes. */
const MOST_KEPT = 800;
/** Marks cost far more than a line; of more the extremes of each stretch have one. */
export const MOST_MARKS = 100;

/** What of a run is drawn in this view, and which points have a mark. */
export function drawnOf(series: RunSeries, view: View): { left: Left; marks: readonly number[] } {
  const left = series.line.stretch(view.from, view.to, MOST_POINTS, MOST_KEPT);
  if (left.kept.length <= MOST_MARKS) return { left, marks: left.kept };
  return { left, marks: series.line.stretch(view.from, view.to, 12, MOST_MARKS).kept };
}

/**
 * The readings in their order, void ones left out, against the limits. Only nonconforming and suspect ones carry a mark.
 * @param version of the series, which changes in place
 */
export const RunChart = memo(function RunChart(props: {
  series: RunSeries;
  version: number;
  drawn: ReturnType<typeof drawnOf>;
  view: View;
  window: Window;
  guard: Guard;
  /** What draws it, where it is not for the screen. */
  plot?: ComponentType<Plotted>;
}) {
  const { series, drawn, view, window, guard, plot: Drawing = Plot } = props;
  const frame = useMemo(() => ({ x: placeAxis(view), ...windowFrame(window, guard) }), [view, window, guard]);
  const layer = useMemo(
    () => (places: PlotPlaces) => <RunLayer series={series} drawn={drawn} places={places} view={view} y={frame.y} />,
    [series, drawn, view, frame],
  );
  return <Drawing frame={frame} spoken={spoken(series, window, guard)} layer={layer} />;
});

function RunLayer(props: {
  series: RunSeries;
  drawn: ReturnType<typeof drawnOf>;
  places: PlotPlaces;
  view: View;
  y: View;
}) {
  const { series, drawn, places, view, y } = props;
  const { line } = series;
  // Beyond the scale the line runs along its edge; the mark says which way it goes on.
  const at = (place: number) =>
    [places.x(line.x(place)), places.y(Math.min(Math.max(line.y(place), y.from), y.to))] as const;
  const last = line.size - 1;
  return (
    <>
      <path
        className={isDense(drawn.left.line.length, places) ? 'chart-line chart-line-dense' : 'chart-line'}
        d={linePath(drawn.left.line.map(at))}
        {...places.within}
      />
      {drawn.marks.map((place) => {
        const [left, top] = at(place);
        return (
          <g key={place} transform={`translate(${left.toFixed(1)} ${top.toFixed(1)}) scale(0.15)`}>
            <VerdictShape verdict={series.standingAt(place)} />
          </g>
        );
      })}
      {last >= 0 && line.x(last) <= view.to && !isMarked(series.standingAt(last)) && (
        <circle className="chart-last" r="4" cx={at(last)[0].toFixed(1)} cy={at(last)[1].toFixed(1)} />
      )}
    </>
  );
}

function spoken({ line, nonconforming, suspect }: RunSeries, window: Window, guard: Guard): string {
  const doubt = suspect === 0 ? '' : ` ${suspect} are suspect.`;
  const acceptance = acceptanceText(window, guard.decision, guard.expandedOhms);
  const within = acceptance === null ? '' : ` Within the guard bands: ${acceptance}.`;
  return `Readings in order, ${line.size} so far, ${nonconforming} not conforming, against the window around ${limitText(unitValue(window), window)}.${within}${doubt} The table below has every value.`;
}
