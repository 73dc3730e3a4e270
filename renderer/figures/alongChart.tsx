import { memo, useMemo } from 'react';
import type { Thinned } from '../../core/chart/thinned.ts';
import type { View } from '../../core/chart/view.ts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { linePath } from '../charts/linePath.ts';
import { outlineOf } from '../charts/outline.ts';
import { placeAxis } from '../charts/placeTicks.ts';
import { isDense, Plot, type PlotFrame, type PlotLevel, type PlotPlaces } from '../charts/plot.tsx';
import { useView } from '../charts/useView.ts';
import { WORTH_ZOOMING, ZoomStrip } from '../charts/zoomStrip.tsx';
import type { Along } from './alongPoints.ts';

/** A line through more points than this looks no different, and costs. */
const MOST_POINTS = 1600;
/** Rings cost far more than a line; of more signals the outermost of each stretch have one. */
const MOST_MARKS = 60;

/** A chart along the reel: one line or two, the levels with their words, a ring where each signal begins. */
const AlongChart = memo(function AlongChart(props: {
  along: Along;
  levels: readonly Omit<PlotLevel, 'on'>[];
  /** What places along the reel are. */
  what: 'positions' | 'pieces';
  /** What is to be seen, for those who hear it. */
  spoken: string;
}) {
  const { along, levels, what, spoken } = props;
  const first = along.lines[0] as Thinned;
  const from = first.size > 0 ? first.x(0) : 1;
  const { whole, view, look } = useView(from, Math.max(from + 1, first.size > 0 ? first.x(first.size - 1) : 2));
  // Away from a stray, values are told apart again.
  const axis = axisOf(along, levels, view);
  const frame: PlotFrame = {
    x: placeAxis(view),
    y: {
      from: axis.from,
      to: axis.to,
      ticks: axis.ticks.map((at) => ({ at, text: ohmsTick(at, axis).replace('-', '−') })),
    },
    levels: levels.map((level) => ({ on: 'y', ...level })),
    bands: [],
  };
  const layer = useMemo(
    () => (places: PlotPlaces) => <AlongLayer along={along} view={view} places={places} />,
    [along, view],
  );
  const outline = useMemo(() => outlineOf(first, whole, spanOf(first, whole)), [first, whole]);
  return (
    <>
      <Plot frame={frame} spoken={spoken} layer={layer} />
      {first.size > WORTH_ZOOMING && (
        <ZoomStrip what={what} whole={whole} view={view} onView={look} outline={outline} />
      )}
    </>
  );
});

export default AlongChart;

/** An axis for what is seen of the lines, and for the levels. */
function axisOf(along: Along, levels: readonly { at: number }[], view: View) {
  const spans = [...along.lines, ...along.bounds].map((line) => spanOf(line, view));
  const all = [...spans.flatMap(({ from, to }) => [from, to]), ...levels.map(({ at }) => at)];
  return axisAround(Math.min(...all), Math.max(...all));
}

/** From the lowest to the highest value of a line, as far as it is seen. */
function spanOf(line: Thinned, view: View): View {
  const values = line.stretch(view.from, view.to, 12, 12).line.map((place) => line.y(place));
  return { from: Math.min(...values), to: Math.max(...values) };
}

function AlongLayer({ along, view, places }: { along: Along; view: View; places: PlotPlaces }) {
  const at = (line: Thinned, place: number) => [places.x(line.x(place)), places.y(line.y(place))] as const;
  const stretch = (line: Thinned) => line.stretch(view.from, view.to, MOST_POINTS, MOST_MARKS);
  return (
    <>
      {along.bounds.map((line, index) => (
        <path
          key={index === 0 ? 'lower' : 'upper'}
          className="chart-bound"
          d={linePath(stretch(line).line.map((place) => at(line, place)))}
          {...places.within}
        />
      ))}
      {along.lines.map((line, index) => {
        const { line: drawn, kept } = stretch(line);
        return (
          <g key={index === 0 ? 'first' : 'second'}>
            <path
              className={isDense(drawn.length, places) ? 'chart-line chart-line-dense' : 'chart-line'}
              d={linePath(drawn.map((place) => at(line, place)))}
              {...places.within}
            />
            {kept.map((place) => {
              const [x, y] = at(line, place);
              return <circle key={place} className="chart-signal" cx={x.toFixed(1)} cy={y.toFixed(1)} r="5" />;
            })}
          </g>
        );
      })}
    </>
  );
}
