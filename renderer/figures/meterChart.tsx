import { memo } from 'react';
import { ErrorBar, Line, LineChart, ReferenceLine, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { MeterDriftPoint } from '../../core/drift/meterDrift.ts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { TICK_TEXT } from '../charts/tickText.ts';
import { useAxisWidth } from '../charts/useAxisWidth.ts';

/** What the meter showed off one reference, check by check, with the reference's own U at each, and how far it may drift. */
const MeterChart = memo(function MeterChart(props: { points: readonly MeterDriftPoint[]; spoken: string }) {
  const { points, spoken } = props;
  const axisWidth = useAxisWidth();
  const data = points.map(({ deviationOhms, uncertaintyOhms }, index) => ({
    place: index + 1,
    deviation: Number(deviationOhms),
    expanded: Number(uncertaintyOhms),
  }));
  const first = data[0]?.deviation ?? 0;
  const most = Number(points[0]?.mostDriftOhms ?? 0);
  const reach = data.flatMap(({ deviation, expanded }) => [deviation - expanded, deviation + expanded]);
  const axis = axisAround(Math.min(0, first - most, ...reach), Math.max(0, first + most, ...reach));
  const tick = (value: number) => ohmsTick(value, axis).replace('-', '−');
  const levels = [
    { at: first + most, words: 'may drift up to here', className: 'chart-limit' },
    { at: 0, words: 'the reference', className: 'chart-nominal' },
    { at: first - most, words: 'may drift down to here', className: 'chart-limit' },
  ];
  return (
    <div className="chart-drawing" role="img" aria-label={spoken}>
      <ResponsiveContainer width="100%" height="100%">
        <LineChart
          data={data}
          margin={{ top: 8, right: axisWidth(levels.map(({ words }) => words)), bottom: 0, left: 0 }}
          accessibilityLayer={false}
        >
          <XAxis
            dataKey="place"
            type="number"
            domain={[0.5, data.length + 0.5]}
            ticks={ticksOf(data.length)}
            tickFormatter={(place: number) => `check ${place}`}
            tick={TICK_TEXT}
            tickLine={false}
          />
          <YAxis
            type="number"
            domain={[axis.from, axis.to]}
            ticks={[...axis.ticks]}
            tickFormatter={tick}
            tick={TICK_TEXT}
            tickMargin={8}
            tickLine={false}
            axisLine={false}
            width={axisWidth(axis.ticks.map(tick))}
            interval={0}
          />
          {levels.map(({ at, words, className }) => (
            <ReferenceLine
              key={words}
              className={className}
              y={at}
              label={{ value: words, position: 'right', ...TICK_TEXT }}
            />
          ))}
          <Line
            className="chart-line"
            dataKey="deviation"
            dot={{ r: 3.5, fill: 'var(--ink)', stroke: 'var(--ink)' }}
            isAnimationActive={false}
            activeDot={false}
          >
            <ErrorBar
              dataKey="expanded"
              direction="y"
              width={6}
              stroke="var(--ink)"
              strokeWidth={1.5}
              isAnimationActive={false}
            />
          </Line>
        </LineChart>
      </ResponsiveContainer>
    </div>
  );
});

export default MeterChart;

const MOST_TICKS = 8;

/** The first check and every so many after, so that their words do not touch. */
function ticksOf(count: number): number[] {
  const step = Math.ceil(count / MOST_TICKS);
  return Array.from({ length: Math.ceil(count / step) }, (_, index) => 1 + index * step);
}
