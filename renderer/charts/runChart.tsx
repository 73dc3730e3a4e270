import Big from 'big.js';
import { memo, useId } from 'react';
import {
  Line,
  LineChart,
  ReferenceArea,
  ReferenceDot,
  ReferenceLine,
  ResponsiveContainer,
  XAxis,
  YAxis,
} from 'recharts';
import type { Reading } from '../../core/inspection/run.ts';
import { conforms } from '../../core/window/judge.ts';
import type { Window } from '../../core/window/window.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import { type Standing, standingOf } from '../verdict/verdictWords.ts';
import { type Guard, guardBands } from '../windowBar/guardBands.ts';
import { Hatching } from '../windowBar/hatching.tsx';
import { windowScale } from '../windowBar/windowScale.ts';
import { acceptanceText } from '../words/decision.ts';
import { limitText, unitValue } from '../words/ohms.ts';
import { axisWidth } from './axisWidth.ts';
import { thin } from './thin.ts';
import { TICK_TEXT } from './tickText.ts';
import './charts.css';

/** A line through more points than this looks no different, and costs. */
const MOST_POINTS = 500;

/** Marks cost far more than a line. A run with more nonconforming pieces shows the latest; the line still leaves the band. */
const MOST_MARKS = 60;

interface Point {
  place: number;
  piece: number;
  value: number;
  verdict: Standing;
  kept: boolean;
}

/** Without any point the library draws no limits either; a line from here to here is not seen. */
const nowhere = (value: number): Point => ({ place: 1, piece: 0, value, verdict: 'pass', kept: false });

/** The readings in their order, void ones left out, against the limits. Only nonconforming and suspect ones carry a mark. */
export const RunChart = memo(function RunChart(props: {
  readings: readonly Reading[];
  window: Window;
  guard: Guard;
  sampleSize: number;
}) {
  const { readings, window, guard } = props;
  const hatching = useId();
  const scale = windowScale(window);
  const points = thin(
    readings.map((reading, index): Point => {
      // Beyond the scale the line runs along its edge; the mark says which way it goes on.
      const ohms = reading.ohms === null ? scale.to : Number(reading.ohms);
      return {
        place: index + 1,
        piece: reading.piece,
        value: Math.min(Math.max(ohms, scale.from), scale.to),
        verdict: standingOf(reading),
        kept: isMarked(standingOf(reading)),
      };
    }),
    MOST_POINTS,
  );
  const limits = [window.lower, window.nominal, window.upper].filter((value) => value !== null);
  const last = points.at(-1);

  return (
    <div className="chart-drawing" role="img" aria-label={spoken(readings, window, guard)}>
      <ResponsiveContainer width="100%" height="100%">
        <LineChart
          data={points.length > 0 ? points : [nowhere(scale.from), nowhere(scale.from)]}
          margin={{ top: 8, right: 24, bottom: 0, left: 0 }}
          accessibilityLayer={false}
        >
          <ReferenceArea
            className="chart-band"
            y1={window.lower === null ? scale.from : Number(window.lower)}
            y2={window.upper === null ? scale.to : Number(window.upper)}
          />
          <Hatching id={hatching} />
          {guardBands(window, guard).map(({ from, to }) => (
            <ReferenceArea
              key={from}
              className="chart-guard"
              fill={`url(#${hatching})`}
              fillOpacity={1}
              y1={Math.max(from, scale.from)}
              y2={Math.min(to, scale.to)}
            />
          ))}
          <XAxis
            dataKey="place"
            type="number"
            domain={[1, Math.max(2, props.sampleSize, readings.length)]}
            ticks={ends(Math.max(2, props.sampleSize, readings.length))}
            tick={TICK_TEXT}
            tickLine={false}
            interval={0}
          />
          <YAxis
            type="number"
            domain={[scale.from, scale.to]}
            ticks={limits.map(Number)}
            tickFormatter={(value: number) => limitText(nearest(limits, value), window)}
            tick={TICK_TEXT}
            tickMargin={8}
            tickLine={false}
            axisLine={false}
            width={axisWidth(limits.map((limit) => limitText(limit, window)))}
            interval={0}
          />
          {window.nominal !== null && <ReferenceLine className="chart-nominal" y={Number(window.nominal)} />}
          {window.lower !== null && <ReferenceLine className="chart-limit" y={Number(window.lower)} />}
          {window.upper !== null && <ReferenceLine className="chart-limit" y={Number(window.upper)} />}
          <Line
            className="chart-line"
            dataKey="value"
            dot={false}
            activeDot={false}
            isAnimationActive={false}
            type="linear"
          />
          {points
            .filter((point) => point.kept)
            .slice(-MOST_MARKS)
            .map((point) => (
              <ReferenceDot key={point.place} x={point.place} y={point.value} r={7} shape={mark(point.verdict)} />
            ))}
          {last && !last.kept && <ReferenceDot x={last.place} y={last.value} r={4} className="chart-last" />}
        </LineChart>
      </ResponsiveContainer>
    </div>
  );
});

function mark(verdict: Standing) {
  return ({ cx = 0, cy = 0 }: { cx?: number; cy?: number }) => (
    <g transform={`translate(${cx} ${cy}) scale(0.15)`}>
      <VerdictShape verdict={verdict} />
    </g>
  );
}

/** First, middle and last place of the axis. */
function ends(most: number): number[] {
  return most < 4 ? [1, most] : [1, Math.round(most / 2), most];
}

/** The exact text of a limit that a chart only knows as a number. */
function nearest(limits: readonly string[], value: number): string {
  return limits.find((limit) => Number(limit) === value) ?? new Big(value).toFixed();
}

/** Only what does not conform and what is suspect carries a mark: the rest is where it should be. */
function isMarked(standing: Standing): boolean {
  return standing === 'suspect' || !conforms(standing);
}

function spoken(readings: readonly Reading[], window: Window, guard: Guard): string {
  const standings = readings.map(standingOf);
  const suspect = standings.filter((standing) => standing === 'suspect').length;
  const marked = standings.filter(isMarked).length - suspect;
  const doubt = suspect === 0 ? '' : ` ${suspect} are suspect.`;
  const acceptance = acceptanceText(window, guard.decision, guard.expandedOhms);
  const within = acceptance === null ? '' : ` Within the guard bands: ${acceptance}.`;
  return `Readings in order, ${readings.length} so far, ${marked} not conforming, against the window around ${limitText(unitValue(window), window)}.${within}${doubt} The table below has every value.`;
}
