import { Line, LineChart, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { CrossedStudy } from '../../core/study/crossed.ts';
import { axisAround, ohmsTick } from '../charts/axisAround.ts';
import { placesOf } from '../charts/placeAxis.ts';
import { TICK_TEXT } from '../charts/tickText.ts';
import { useAxisWidth } from '../charts/useAxisWidth.ts';

/** Dashes and marks tell operators apart without colour: a pair of each is met once among ten, the most a study has. */
const DASHES = ['0', '8 4', '2 4', '10 4 2 4', '14 6'];
const MARKS = [
  'M -4 0 A 4 4 0 1 0 4 0 A 4 4 0 1 0 -4 0 Z',
  'M -3.6 -3.6 H 3.6 V 3.6 H -3.6 Z',
  'M 0 -5 L 4.6 3.6 L -4.6 3.6 Z',
  'M 0 -5.4 L 5.4 0 L 0 5.4 L -5.4 0 Z',
];

/** Even operators have an empty mark, so that lines with the same dash do not have the same mark. */
function styleOf(index: number) {
  return {
    dash: DASHES[index % DASHES.length] as string,
    mark: MARKS[index % MARKS.length] as string,
    filled: index % 2 === 0,
  };
}

/** The means of each operator over the pieces, one line for each operator. */
export function InteractionChart({ study }: { study: CrossedStudy }) {
  const { pieces, operators, cells } = study;
  const means = cells.map(({ mean }) => mean);
  const axisWidth = useAxisWidth();
  const axis = axisAround(Math.min(...means), Math.max(...means));
  const places = placesOf(pieces);
  // Cells come piece by piece, operators in their order.
  const data = pieces.map((_, piece) => ({
    place: piece + 1,
    ...Object.fromEntries(operators.map((_, index) => [`o${index}`, means[piece * operators.length + index]])),
  }));
  return (
    <>
      <div className="chart-drawing" role="img" aria-label={spoken(study)}>
        <ResponsiveContainer width="100%" height="100%">
          <LineChart data={data} margin={{ top: 8, right: 16, bottom: 0, left: 0 }} accessibilityLayer={false}>
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
            {operators.map((operator, index) => (
              <Line
                key={operator}
                className="chart-line"
                dataKey={`o${index}`}
                strokeDasharray={styleOf(index).dash}
                dot={<Mark series={index} />}
                activeDot={false}
                isAnimationActive={false}
                type="linear"
              />
            ))}
          </LineChart>
        </ResponsiveContainer>
      </div>
      <ul className="study-key small">
        {operators.map((operator, index) => (
          <li key={operator}>
            <svg viewBox="0 0 40 12" aria-hidden="true" focusable="false">
              <path className="study-key-line" d="M 0 6 H 40" strokeDasharray={styleOf(index).dash} />
              <Mark series={index} cx={20} cy={6} />
            </svg>
            {operator}
          </li>
        ))}
      </ul>
    </>
  );
}

/** The library hands its dots an `index` of its own, that of the point. */
function Mark({ series, cx = 0, cy = 0 }: { series: number; cx?: number; cy?: number }) {
  const { mark, filled } = styleOf(series);
  const style = filled ? 'study-mark-filled' : 'study-mark-empty';
  return <path className={style} d={mark} transform={`translate(${cx} ${cy})`} />;
}

function spoken({ operators, pieces }: CrossedStudy): string {
  return `Interaction: a line for each of ${operators.length} operators over ${pieces.length} pieces. The table below has every mean.`;
}
