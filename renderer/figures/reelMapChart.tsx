import { memo, useMemo } from 'react';
import type { View } from '../../core/chart/view.ts';
import type { Reading } from '../../core/inspection/run.ts';
import type { TheilSen } from '../../core/statistics/theilSen.ts';
import type { Window } from '../../core/window/window.ts';
import { dotsPath, linePath } from '../charts/linePath.ts';
import { outlineOf } from '../charts/outline.ts';
import { placeAxis } from '../charts/placeTicks.ts';
import { Plot, type PlotPlaces } from '../charts/plot.tsx';
import { useView } from '../charts/useView.ts';
import { windowFrame } from '../charts/windowFrame.ts';
import { WORTH_ZOOMING, ZoomStrip } from '../charts/zoomStrip.tsx';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import { standingOf } from '../verdict/verdictWords.ts';
import type { Guard } from '../windowBar/guardBands.ts';
import { trendAt } from './alongPoints.ts';
import type { ReelMap } from './reelMapPoints.ts';

const MOST_DOTS = 1600;
/** Marks cost far more than dots; of more the outermost of each stretch have one. */
const MOST_MARKS = 100;

/** The whole reel from its first piece to its last: each reading where its piece was, against the window, and the trend. */
const ReelMapChart = memo(function ReelMapChart(props: {
  map: ReelMap;
  /** The last place there is along the axis. */
  end: number;
  window: Window;
  guard: Guard;
  trend: TheilSen | null;
  what: 'positions' | 'pieces';
  spoken: string;
}) {
  const { map, end, window, guard, trend, what, spoken } = props;
  const { points } = map;
  const last = points.size > 0 ? points.x(points.size - 1) : 1;
  const { whole, view, look } = useView(1, Math.max(2, end, last));
  const frame = useMemo(() => ({ x: placeAxis(view), ...windowFrame(window, guard) }), [view, window, guard]);
  const layer = useMemo(
    () => (places: PlotPlaces) => <Dots map={map} view={view} y={frame.y} trend={trend} places={places} />,
    [map, view, frame, trend],
  );
  const outline = useMemo(() => outlineOf(points, whole, frame.y), [points, whole, frame]);
  return (
    <>
      <Plot frame={frame} spoken={spoken} layer={layer} />
      {points.size > WORTH_ZOOMING && (
        <ZoomStrip what={what} whole={whole} view={view} onView={look} outline={outline} />
      )}
    </>
  );
});

export default ReelMapChart;

function Dots(props: { map: ReelMap; view: View; y: View; trend: TheilSen | null; places: PlotPlaces }) {
  const { map, view, y, trend, places } = props;
  const { points, readings } = map;
  const { line, kept } = points.stretch(view.from, view.to, MOST_DOTS, MOST_MARKS);
  // Beyond the scale a mark stands at its edge and says which way it goes on.
  const at = (place: number) =>
    [places.x(points.x(place)), places.y(Math.min(Math.max(points.y(place), y.from), y.to))] as const;
  const marked = new Set(kept);
  return (
    <>
      <path
        className="chart-dots"
        d={dotsPath(line.filter((place) => !marked.has(place)).map(at))}
        {...places.within}
      />
      {trend && (
        <path
          className="chart-trend"
          d={linePath([view.from, view.to].map((place) => [places.x(place), places.y(trendAt(trend, place))]))}
          {...places.within}
        />
      )}
      {kept.map((place) => {
        const [left, top] = at(place);
        return (
          <g key={place} transform={`translate(${left.toFixed(1)} ${top.toFixed(1)}) scale(0.15)`}>
            <VerdictShape verdict={standingOf(readings[place] as Reading)} />
          </g>
        );
      })}
    </>
  );
}
