import type { MouseEvent } from 'react';
import type { TrendPoint } from '../../core/contract/lotTrends.ts';
import { type Axis, axisAround } from '../charts/axisAround.ts';
import { Plot, type PlotAxis, type PlotFrame, type PlotPlaces } from '../charts/plot.tsx';
import { goTo } from '../route.ts';
import { counted } from '../words/count.ts';
import { formatDay, formatTime } from '../words/time.ts';

/** What one chart shows of each lot. */
export interface Trend {
  title: string;
  of: (point: TrendPoint) => number | null;
  /** A figure that was read off, and one at a mark of the axis. */
  tick: (value: number, axis: Axis) => string;
  /** The axis reaches at least to these. */
  reaches?: readonly number[];
  /** The window of each lot is drawn with it. */
  limits?: boolean;
}

const DAY_MILLISECONDS = 86_400_000;
/** With more dots than this they are smaller. */
const MANY = 60;
/** Half the length of a limit's stroke, in pixels. */
const STROKE = 5;

/** A figure of lots over time; each dot leads to its run. Those who hear it, or work by keys, have the table below. */
export function TrendChart({ trend, points }: { trend: Trend; points: readonly TrendPoint[] }) {
  const { title, of, tick, reaches = [], limits = false } = trend;
  const drawn = points.filter((point) => of(point) !== null);
  const values = drawn.map((point) => of(point) as number);
  const bounds = limits ? drawn.flatMap(({ lower, upper }) => [lower, upper]).filter((value) => value !== null) : [];
  const all = [...values, ...bounds, ...reaches];
  const axis = axisAround(least(all), -least(all.map((value) => -value)));
  const frame: PlotFrame = {
    x: timeAxis(drawn),
    y: { from: axis.from, to: axis.to, ticks: axis.ticks.map((at) => ({ at, text: tick(at, axis) })) },
    levels: [],
    bands: [],
  };
  const spoken = `${title} of ${counted(values.length, 'lot or month', 'lots or months')} over time. The table below has each.`;
  const layer = (places: PlotPlaces) => <Dots points={drawn} of={of} limits={limits} places={places} />;
  return <Plot frame={frame} spoken={spoken} layer={layer} />;
}

function Dots(props: { points: readonly TrendPoint[]; of: Trend['of']; limits: boolean; places: PlotPlaces }) {
  const { points, of, limits, places } = props;
  const radius = points.length > MANY ? 3 : 4.5;
  const stroke = (point: TrendPoint, at: number | null) =>
    at === null ? '' : `M${(places.x(point.receivedMs) - STROKE).toFixed(1)} ${places.y(at).toFixed(1)}h${2 * STROKE}`;
  const open = ({ target }: MouseEvent) => {
    const run = Number((target as SVGElement).dataset.run);
    if (run > 0) goTo({ screen: 'run', run });
  };
  return (
    <>
      {limits && (
        <path
          className="trend-limits"
          d={points.map((point) => stroke(point, point.lower) + stroke(point, point.upper)).join('')}
        />
      )}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the table below has a link for each */}
      <g onClick={open}>
        {points.map((point) => (
          <circle
            key={`${point.run} ${point.name}`}
            className={dotClass(point)}
            data-run={point.run ?? undefined}
            cx={places.x(point.receivedMs).toFixed(1)}
            cy={places.y(of(point) as number).toFixed(1)}
            r={radius}
          >
            <title>{point.run === null ? point.name : `Lot ${point.name}, run ${point.run}`}</title>
          </circle>
        ))}
      </g>
    </>
  );
}

function dotClass({ run, disposition }: TrendPoint): string {
  const kind = disposition === 'not-accepted' ? ' trend-dot-not-accepted' : '';
  return `trend-dot${run === null ? '' : ' trend-dot-of-run'}${kind}`;
}

/** Spreading thousands of values over a call's arguments could be too many. */
function least(values: readonly number[]): number {
  return values.reduce((lowest, value) => Math.min(lowest, value), Number.POSITIVE_INFINITY);
}

/** From a little before the first to a little after the last, marked by days; by the time where all came on one. */
function timeAxis(points: readonly TrendPoint[]): PlotAxis {
  const times = points.map(({ receivedMs }) => receivedMs);
  const [first, last] = [least(times), -least(times.map((time) => -time))];
  const isShort = last - first < 2 * DAY_MILLISECONDS;
  const room = Math.max((last - first) * 0.03, 500);
  const marks = isShort ? [first, last] : [first, (first + last) / 2, last];
  const text = (at: number) => (isShort ? formatTime(new Date(at).toISOString()) : formatDay(at));
  // What stands at one place, or reads the same, stands there once.
  const told = marks.map((at) => ({ at, text: text(at) }));
  return {
    from: first - room,
    to: last + room,
    ticks: told.filter((mark, index) => told.findIndex((other) => other.text === mark.text) === index),
  };
}
