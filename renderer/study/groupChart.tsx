import { ComposedChart, Line, ResponsiveContainer, Scatter, XAxis, YAxis } from 'recharts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { HALF, placesOf, WIDE } from '../charts/placeAxis.ts';
import { LINE_DOT, TICK_TEXT } from '../charts/tickText.ts';
import { useAxisWidth } from '../charts/useAxisWidth.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';

/** Readings that belong together, in ohms, under a name. */
export interface NamedGroup {
  name: string;
  readings: readonly number[];
  mean: number;
  lowest: number;
  highest: number;
}

/** Marks cost far more than a line: with more readings only the ends of each group are drawn, with more groups no dots. */
const MOST_RINGS = 2000;
const MOST_DOTS = 200;

/** Whether every reading of these groups has its ring, or only the lowest and highest of each. */
export function drawsEveryReading(groups: readonly NamedGroup[]): boolean {
  return groups.reduce((count, { readings }) => count + readings.length, 0) <= MOST_RINGS;
}

/** All readings of each group beside each other, their means joined by a line. */
export function GroupChart(props: { title: string; groups: readonly NamedGroup[]; wide: boolean }) {
  const { title, groups, wide } = props;
  const axisWidth = useAxisWidth();
  const axis = axisAround(
    Math.min(...groups.map(({ lowest }) => lowest)),
    Math.max(...groups.map(({ highest }) => highest)),
  );
  const every = drawsEveryReading(groups);
  const places = placesOf(
    groups.map(({ name }) => name),
    wide ? WIDE : HALF,
  );
  const means = groups.map(({ mean }, index) => ({ place: index + 1, mean }));
  const readings = groups.flatMap((group, index) =>
    (every ? group.readings : [group.lowest, group.highest]).map((ohms) => ({ place: index + 1, ohms })),
  );
  const ticks = axis.ticks.map((value) => ohmsTick(value, axis));
  return (
    <div className="chart-drawing" role="img" aria-label={spoken(title, groups)}>
      <ResponsiveContainer width="100%" height="100%">
        <ComposedChart data={means} margin={{ top: 8, right: 16, bottom: 0, left: 0 }} accessibilityLayer={false}>
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
            width={axisWidth(ticks)}
            interval={0}
          />
          <Line
            className="chart-line study-means"
            dataKey="mean"
            dot={groups.length <= MOST_DOTS ? LINE_DOT : false}
            activeDot={false}
            isAnimationActive={false}
            type="linear"
          />
          <Scatter className="study-readings" data={readings} dataKey="ohms" isAnimationActive={false} shape={ring} />
        </ComposedChart>
      </ResponsiveContainer>
    </div>
  );
}

function ring({ cx = 0, cy = 0 }: { cx?: number | undefined; cy?: number | undefined }) {
  return <circle className="study-ring" cx={cx} cy={cy} r={4.5} />;
}

function spoken(title: string, groups: readonly NamedGroup[]): string {
  const [first] = groups;
  if (!first) return title;
  const low = groups.reduce((a, b) => (b.mean < a.mean ? b : a), first);
  const high = groups.reduce((a, b) => (b.mean > a.mean ? b : a), first);
  const like = { significant: 7 };
  return `${title}: means from ${ohmsFigure(low.mean, like)} (${low.name}) to ${ohmsFigure(high.mean, like)} (${high.name}). The table below has every group.`;
}
