import { memo } from 'react';
import { Bar, BarChart, ReferenceLine, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { Window } from '../../core/window/window.ts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { TICK_TEXT } from '../charts/tickText.ts';
import { limitText, windowText } from '../words/ohms.ts';
import type { DrawnBins } from './drawnBins.ts';

/** How the readings of a lot lie, in bins that suit them, with the limits where they are near enough. */
const BinsChart = memo(function BinsChart(props: { bins: DrawnBins; window: Window; n: number }) {
  const { bins, window, n } = props;
  const { counts, from, to, width } = bins;
  const placeOf = (ohms: number) => (ohms - from) / width;
  const axis = axisAround(from, to);
  const ticks = axis.ticks.filter((value) => value >= from && value <= to);
  const data = counts.map((count, index) => ({ middle: index + 0.5, count }));
  const most = Math.max(4, ...counts);
  const limits = [
    ...(window.lower !== null && bins.showsLower ? [{ at: window.lower, words: 'lower limit' }] : []),
    ...(window.upper !== null && bins.showsUpper ? [{ at: window.upper, words: 'upper limit' }] : []),
  ];
  return (
    <div
      className="chart-drawing"
      role="img"
      aria-label={`How ${n} readings lie, against the window ${windowText(window)}. The table below has every count.`}
    >
      <ResponsiveContainer width="100%" height="100%">
        <BarChart
          data={data}
          margin={{ top: 40, right: 72, bottom: 0, left: 16 }}
          barCategoryGap={0}
          accessibilityLayer={false}
        >
          <XAxis
            dataKey="middle"
            type="number"
            domain={[0, counts.length]}
            ticks={ticks.map(placeOf)}
            tickFormatter={(place: number) => ohmsTick(from + place * width, axis)}
            tick={TICK_TEXT}
            tickLine={false}
          />
          <YAxis
            allowDecimals={false}
            domain={[0, most]}
            ticks={[0, most]}
            tick={TICK_TEXT}
            tickLine={false}
            axisLine={false}
            width={48}
          />
          <Bar className="chart-bar" dataKey="count" isAnimationActive={false} />
          {limits.map(({ at, words }) => (
            <ReferenceLine
              key={words}
              className="chart-limit"
              x={placeOf(Number(at))}
              label={{ value: `${words} ${limitText(at, window)}`, position: 'top', offset: 14, ...TICK_TEXT }}
            />
          ))}
        </BarChart>
      </ResponsiveContainer>
    </div>
  );
});

export default BinsChart;
