import { memo } from 'react';
import { Line, LineChart, ReferenceDot, ReferenceLine, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { axisWidth } from '../charts/axisWidth.ts';
import { TICK_TEXT } from '../charts/tickText.ts';
import type { AlongPoint } from './alongPoints.ts';
import { wordsApart } from './wordsApart.ts';

/** A limit or another level of a chart, with the words that stand at its end. */
export interface Level {
  at: number;
  words: string;
  /** A limit is a full line, the centre a dotted one; `moves` is drawn by the points' own limits, and only its words here. */
  kind: 'limit' | 'centre' | 'moves';
}

/** Marks cost far more than a line: a chart with more signals shows the latest. */
const MOST_MARKS = 60;

/** A chart along the reel: one line or two, the levels with their words, a ring where each signal begins. */
const AlongChart = memo(function AlongChart(props: {
  points: readonly AlongPoint[];
  levels: readonly Level[];
  /** What is to be seen, for those who hear it. */
  spoken: string;
}) {
  const { points, levels, spoken } = props;
  const shown = points.flatMap(({ value, second, lower, upper, line }) => [value, second, lower, upper, line]);
  const all = [...shown, ...levels.map(({ at }) => at)].filter((value) => value !== undefined);
  const axis = axisAround(Math.min(...all), Math.max(...all));
  const first = points[0]?.piece ?? 1;
  const last = Math.max(first + 1, points.at(-1)?.piece ?? 2);
  const middle = Math.round((first + last) / 2);
  const tick = (value: number) => ohmsTick(value, axis).replace('-', '−');
  const apart = wordsApart(levels.map(({ at }) => (at - axis.from) / (axis.to - axis.from)));
  return (
    <div className="chart-drawing" role="img" aria-label={spoken}>
      <ResponsiveContainer width="100%" height="100%">
        <LineChart
          data={[...points]}
          margin={{ top: 8, right: axisWidth(levels.map(({ words }) => words)), bottom: 0, left: 0 }}
          accessibilityLayer={false}
        >
          <XAxis
            dataKey="piece"
            type="number"
            domain={[first, last]}
            ticks={last - first < 4 ? [first, last] : [first, middle, last]}
            tick={TICK_TEXT}
            tickLine={false}
            interval={0}
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
          {levels.map(({ at, words, kind }, index) => (
            <ReferenceLine
              key={words}
              className={LEVEL_CLASS[kind]}
              y={at}
              label={{ value: words, position: 'right', dy: apart[index] as number, ...TICK_TEXT }}
            />
          ))}
          {points.some(({ upper }) => upper !== undefined) && (
            <>
              <Line {...PLAIN} className="chart-bound" dataKey="upper" />
              <Line {...PLAIN} className="chart-bound" dataKey="lower" />
            </>
          )}
          {points.some(({ line }) => line !== undefined) && <Line {...PLAIN} className="chart-trend" dataKey="line" />}
          <Line {...PLAIN} className="chart-line" dataKey="value" />
          {points.some(({ second }) => second !== undefined) && (
            <Line {...PLAIN} className="chart-line" dataKey="second" />
          )}
          {points
            .filter(({ out }, index) => out && !points[index - 1]?.out)
            .slice(-MOST_MARKS)
            .map(({ piece, value, second }) => (
              <ReferenceDot
                key={piece}
                className="chart-signal"
                x={piece}
                y={second !== undefined && -second > value ? second : value}
                r={5}
              />
            ))}
        </LineChart>
      </ResponsiveContainer>
    </div>
  );
});

export default AlongChart;

const PLAIN = { dot: false, activeDot: false, isAnimationActive: false, type: 'linear' } as const;

const LEVEL_CLASS: Record<Level['kind'], string> = {
  limit: 'chart-limit',
  centre: 'chart-nominal',
  moves: 'chart-words-only',
};
