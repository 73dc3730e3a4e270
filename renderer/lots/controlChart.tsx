import { Line, LineChart, ReferenceDot, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { LimitedPoint } from '../../core/statistics/shewhart.ts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { placesOf } from '../charts/placeAxis.ts';
import { LINE_DOT, TICK_TEXT } from '../charts/tickText.ts';
import { useAxisWidth } from '../charts/useAxisWidth.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import '../charts/charts.css';

/** One lot on a control chart, in ohms; without limits where there are none. */
export interface ControlPoint {
  label: string;
  value: number | null;
  limits: LimitedPoint | null;
}

/** Values of lots in order of time with centre line and limits; those beyond are marked by the way they lie. */
export function ControlChart({ title, points }: { title: string; points: readonly ControlPoint[] }) {
  const axisWidth = useAxisWidth();
  const known = points.filter(({ value }) => value !== null);
  const all = points.flatMap(({ value, limits }) => [value, limits?.lower, limits?.upper]).filter(isNumber);
  const axis = axisAround(Math.min(...all), Math.max(...all));
  const places = placesOf(points.map(({ label }) => label));
  const data = points.map(({ value, limits }, index) => ({
    place: index + 1,
    value,
    centre: limits?.centre ?? null,
    lower: limits?.lower ?? null,
    upper: limits?.upper ?? null,
    out: limits?.out ?? false,
  }));
  const line = { dot: false, activeDot: false, isAnimationActive: false } as const;
  return (
    <div className="chart-drawing" role="img" aria-label={spoken(title, known)}>
      <ResponsiveContainer width="100%" height="100%">
        <LineChart data={data} margin={{ top: 12, right: 16, bottom: 0, left: 0 }} accessibilityLayer={false}>
          <XAxis
            dataKey="place"
            type="number"
            domain={places.domain}
            ticks={places.ticks}
            tickFormatter={places.text}
            tick={TICK_TEXT}
            tickLine={false}
            interval={0}
          />
          <YAxis
            type="number"
            domain={[axis.from, axis.to]}
            ticks={axis.ticks}
            tickFormatter={(value: number) => ohmsTick(value, axis)}
            tick={TICK_TEXT}
            tickMargin={8}
            tickLine={false}
            axisLine={false}
            width={axisWidth(axis.ticks.map((value) => ohmsTick(value, axis)))}
            interval={0}
          />
          <Line className="control-limit" dataKey="lower" type="linear" {...line} />
          <Line className="control-limit" dataKey="upper" type="linear" {...line} />
          <Line className="control-centre" dataKey="centre" type="linear" strokeDasharray="2 4" {...line} />
          <Line className="chart-line" dataKey="value" type="linear" {...line} dot={LINE_DOT} />
          {data.map(({ place, value, centre, out }) =>
            out && value !== null && centre !== null ? (
              <ReferenceDot key={place} x={place} y={value} r={7} shape={mark(value > centre)} />
            ) : null,
          )}
        </LineChart>
      </ResponsiveContainer>
    </div>
  );
}

function isNumber(value: number | null | undefined): value is number {
  return typeof value === 'number';
}

function mark(isAbove: boolean) {
  return ({ cx = 0, cy = 0 }: { cx?: number; cy?: number }) => (
    <g transform={`translate(${cx} ${cy}) scale(0.18)`}>
      <VerdictShape verdict={isAbove ? 'fail-high' : 'fail-low'} />
    </g>
  );
}

function spoken(title: string, points: readonly ControlPoint[]): string {
  const out = points.filter(({ limits }) => limits?.out).map(({ label }) => label);
  const limited = points.some(({ limits }) => limits !== null);
  const beyond = out.length === 0 ? 'none is beyond its limits' : `beyond its limits: lot ${out.join(', ')}`;
  return `${title} of ${points.length} lots; ${limited ? beyond : 'there are no limits yet'}. The table below has every lot.`;
}
