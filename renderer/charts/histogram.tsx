import { memo, useId } from 'react';
import { Bar, BarChart, ReferenceArea, ReferenceLine, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { Reading } from '../../core/inspection/run.ts';
import type { Window } from '../../core/window/window.ts';
import { type Guard, guardBands } from '../windowBar/guardBands.ts';
import { Hatching } from '../windowBar/hatching.tsx';
import { windowScale } from '../windowBar/windowScale.ts';
import { acceptanceText } from '../words/decision.ts';
import { limitText, windowText } from '../words/ohms.ts';
import { type Bins, histogramBins, placeAlongBins } from './histogramBins.ts';
import { TICK_TEXT } from './tickText.ts';
import './charts.css';

/** The bins of a run's readings that count. */
export function binsOf(readings: readonly Reading[], window: Window): Bins {
  const values = readings.map((reading) => (reading.ohms === null ? Number.POSITIVE_INFINITY : Number(reading.ohms)));
  return histogramBins(windowScale(window), values);
}

/** How the readings that count lie in the window. Bin edges fall on the limits. */
export const Histogram = memo(function Histogram(props: {
  readings: readonly Reading[];
  window: Window;
  guard: Guard;
}) {
  const { readings, window, guard } = props;
  const hatching = useId();
  const scale = windowScale(window);
  const acceptance = acceptanceText(window, guard.decision, guard.expandedOhms);
  const within = acceptance === null ? '' : `; within the guard bands: ${acceptance}`;
  const { bins, band } = binsOf(readings, window);
  // Edges fall on the limits, so a bin lies inside or outside as a whole.
  const isInside = (index: number) => index >= band.first && index < band.end;
  const data = bins.map(({ count }, index) => ({
    middle: index + 0.5,
    inside: isInside(index) ? count : 0,
    outside: isInside(index) ? 0 : count,
  }));
  const most = Math.max(4, ...bins.map((bin) => bin.count));
  const ticks = [
    ...(window.lower === null ? [] : [{ at: band.first, text: limitText(window.lower, window) }]),
    ...(window.upper === null ? [] : [{ at: band.end, text: limitText(window.upper, window) }]),
  ];

  return (
    <div
      className="chart-drawing"
      role="img"
      aria-label={`How many of ${readings.length} readings lie at each value, against the window ${windowText(window)}${within}. The table below has every count.`}
    >
      <ResponsiveContainer width="100%" height="100%">
        <BarChart
          data={data}
          margin={{ top: 8, right: 8, bottom: 0, left: 0 }}
          barCategoryGap={0}
          accessibilityLayer={false}
        >
          <Hatching id={hatching} />
          {guardBands(window, guard).map(({ from, to }) => (
            <ReferenceArea
              key={from}
              className="chart-guard"
              fill={`url(#${hatching})`}
              fillOpacity={1}
              x1={placeAlongBins(scale, from)}
              x2={placeAlongBins(scale, to)}
            />
          ))}
          <XAxis
            dataKey="middle"
            type="number"
            domain={[0, bins.length]}
            ticks={ticks.map((tick) => tick.at)}
            tickFormatter={(value: number) => ticks.find((tick) => tick.at === value)?.text ?? ''}
            tick={TICK_TEXT}
            tickLine={false}
            interval={0}
          />
          <YAxis
            allowDecimals={false}
            domain={[0, most]}
            ticks={[0, most]}
            tick={TICK_TEXT}
            tickLine={false}
            axisLine={false}
            width={32}
          />
          <Bar className="chart-bar" dataKey="inside" stackId="count" isAnimationActive={false} />
          <Bar className="chart-bar chart-bar-outside" dataKey="outside" stackId="count" isAnimationActive={false} />
          {ticks.map((tick) => (
            <ReferenceLine key={tick.at} className="chart-limit" x={tick.at} />
          ))}
        </BarChart>
      </ResponsiveContainer>
    </div>
  );
});
