import Big from 'big.js';
import { memo } from 'react';
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
import type { Window } from '../../core/window/window.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import { type Standing, standingOf } from '../verdict/verdictWords.ts';
import { windowScale } from '../windowBar/windowScale.ts';
import { limitText, unitValue } from '../words/ohms.ts';
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
  sampleSize: number;
}) {
  const { readings, window } = props;
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
        kept: standingOf(reading) !== 'pass',
      };
    }),
    MOST_POINTS,
  );
  const limits = [window.lower, window.nominal, window.upper].filter((value) => value !== null);
  const last = points.at(-1);

  return (
    <div className="chart-drawing" role="img" aria-label={spoken(readings, window)}>
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

/** Room for the longest figure beside an axis, in pixels; text grows with the screen, and a digit is 0.6 of its height. */
function axisWidth(texts: readonly string[]): number {
  const small = 0.875 * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  return Math.ceil((Math.max(6, ...texts.map((text) => text.length)) * 0.6 + 1) * small) + 8;
}

/** First, middle and last place of the axis. */
function ends(most: number): number[] {
  return most < 4 ? [1, most] : [1, Math.round(most / 2), most];
}

/** The exact text of a limit that a chart only knows as a number. */
function nearest(limits: readonly string[], value: number): string {
  return limits.find((limit) => Number(limit) === value) ?? new Big(value).toFixed();
}

function spoken(readings: readonly Reading[], window: Window): string {
  const standings = readings.map(standingOf);
  const suspect = standings.filter((standing) => standing === 'suspect').length;
  const outside = standings.filter((standing) => standing !== 'pass').length - suspect;
  const doubt = suspect === 0 ? '' : ` ${suspect} are suspect.`;
  return `Readings in order, ${readings.length} so far, ${outside} outside the window around ${limitText(unitValue(window), window)}.${doubt} The table below has every value.`;
}
