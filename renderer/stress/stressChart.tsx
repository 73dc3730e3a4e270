import { Area, ComposedChart, Line, ReferenceDot, ReferenceLine, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import { Thinned } from '../../core/chart/thinned.ts';
import type { StressedPiece } from '../../core/drift/stress.ts';
import { axisAround, percentTick } from '../charts/axisAround.ts';
import { ChartFrame } from '../charts/chartFrame.tsx';
import { placesOf } from '../charts/placeAxis.ts';
import { TICK_TEXT } from '../charts/tickText.ts';
import { useAxisWidth } from '../charts/useAxisWidth.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import type { Standing } from '../verdict/verdictWords.ts';
import { formatCount } from '../words/count.ts';
import { standingOfPiece } from './worstPiece.ts';
import '../charts/charts.css';

/** Marks cost far more than a line: of more pieces only so many have their own. */
const MOST_MARKS = 200;
/** A change may leave the picture when it is so many times the limit; its mark then stands at the edge. */
const MOST_LIMITS = 4;

interface Point {
  place: number;
  value: number;
  limit: number;
  standing: Standing;
}

/** ΔR/R of each piece, in their order, against the band its limit leaves it. */
export default function StressChart({ pieces }: { pieces: readonly StressedPiece[] }) {
  const axisWidth = useAxisWidth();
  const shown = pieces.filter(({ beforeOhms }) => Number(beforeOhms) > 0);
  const limits = shown.map(({ limitOhms, beforeOhms }) => (100 * Number(limitOhms)) / Number(beforeOhms));
  const widest = Math.max(...limits);
  const changes = shown.map(({ changePercent }) => Number(changePercent ?? 0));
  const reach = Math.min(Math.max(widest, ...changes.map(Math.abs)), MOST_LIMITS * widest);
  const axis = axisAround(-reach, reach);
  const line = new Thinned(shown.length);
  const all = shown.map((piece, index): Point => {
    const standing = standingOfPiece(piece);
    // An open piece has no change: its mark stands at the upper edge.
    const change = piece.changePercent === null ? axis.to : Number(piece.changePercent);
    const value = Math.min(Math.max(change, axis.from), axis.to);
    line.append(index, value, standing !== 'pass');
    return { place: index + 1, value, limit: limits[index] as number, standing };
  });
  const left = line.stretch(0, shown.length, MOST_MARKS, MOST_MARKS);
  const [points, kept] = [left.line, left.kept].map((places) => places.map((place) => all[place] as Point)) as [
    Point[],
    Point[],
  ];
  const marked = points.length > 2 * MOST_MARKS ? kept : points;
  const places = placesOf(shown.map(({ piece }) => piece));
  if (shown.length === 0) return <p>No piece has a first value above 0 Ω, so there is no ΔR/R to draw.</p>;
  return (
    <ChartFrame className="stress-chart" title="Change of each piece against its limit">
      <div className="chart-drawing" role="img" aria-label={spoken(pieces)}>
        <ResponsiveContainer width="100%" height="100%">
          <ComposedChart
            data={withEdges(points, places.domain)}
            margin={{ top: 12, right: 16, bottom: 0, left: 0 }}
            accessibilityLayer={false}
          >
            <Area
              className="stress-band"
              dataKey={({ limit }: Pick<Point, 'limit'>) => [-limit, limit]}
              type="linear"
              activeDot={false}
              isAnimationActive={false}
            />
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
              tickFormatter={(value: number) => percentTick(value, axis)}
              tick={TICK_TEXT}
              tickMargin={8}
              tickLine={false}
              axisLine={false}
              width={axisWidth(axis.ticks.map((value) => percentTick(value, axis)))}
              interval={0}
            />
            <ReferenceLine className="chart-nominal" y={0} />
            <Line
              className="stress-limit"
              dataKey={({ limit }: Pick<Point, 'limit'>) => limit}
              dot={false}
              activeDot={false}
              isAnimationActive={false}
            />
            <Line
              className="stress-limit"
              dataKey={({ limit }: Pick<Point, 'limit'>) => -limit}
              dot={false}
              activeDot={false}
              isAnimationActive={false}
            />
            {marked.map(({ place, value, standing }) => (
              <ReferenceDot key={place} x={place} y={value} r={6} shape={mark(standing)} />
            ))}
          </ComposedChart>
        </ResponsiveContainer>
      </div>
    </ChartFrame>
  );
}

/** The band reaches from edge to edge, also around a single piece. */
function withEdges(points: readonly Point[], [from, to]: readonly [number, number]): Pick<Point, 'place' | 'limit'>[] {
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last) return [];
  return [{ place: from, limit: first.limit }, ...points, { place: to, limit: last.limit }];
}

function mark(standing: Standing) {
  return ({ cx = 0, cy = 0 }: { cx?: number; cy?: number }) => (
    <g transform={`translate(${cx} ${cy}) scale(0.13)`}>
      <VerdictShape verdict={standing} />
    </g>
  );
}

function spoken(pieces: readonly StressedPiece[]): string {
  const beyond = pieces.filter(({ within }) => !within).length;
  return `Relative change of ${formatCount(pieces.length)} pieces against their limits, ${formatCount(beyond)} beyond. The table below has every piece.`;
}
