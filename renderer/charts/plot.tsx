import { createContext, memo, type ReactNode, useContext, useId } from 'react';
import {
  LineChart,
  ReferenceArea,
  ReferenceLine,
  ResponsiveContainer,
  usePlotArea,
  useXAxisScale,
  useYAxisScale,
  XAxis,
  YAxis,
  ZIndexLayer,
} from 'recharts';
import { Hatching } from '../windowBar/hatching.tsx';
import { TICK_TEXT } from './tickText.ts';
import { useAxisWidth } from './useAxisWidth.ts';
import { wordsApart } from './wordsApart.ts';
import '../windowBar/windowBar.css';
import './charts.css';

/** An axis of a plot and what stands at its marks. Plain data: the frame is drawn anew only when it is other data. */
export interface PlotAxis {
  from: number;
  to: number;
  ticks: readonly { at: number; text: string }[];
}

/** A straight line across the plot, with words at its end where it has any. */
export interface PlotLevel {
  /** On which axis it stands. */
  on: 'x' | 'y';
  at: number;
  kind: 'limit' | 'centre' | 'control' | 'words-only';
  words?: string;
}

/** A band across the plot: the window, or a guard band. */
export interface PlotBand {
  on: 'x' | 'y';
  from: number;
  to: number;
  kind: 'window' | 'guard';
}

/** What a plot is drawn in: axes, levels and bands. */
export interface PlotFrame {
  x: PlotAxis;
  y: PlotAxis;
  levels: readonly PlotLevel[];
  bands: readonly PlotBand[];
  /** Room above the plot for words of levels on x, in pixels. */
  above?: number;
}

/** Where values lie on the plot, in pixels of the drawing, and the plot itself. */
export interface PlotPlaces {
  x(value: number): number;
  y(value: number): number;
  /** Of the plot. */
  width: number;
  /** What belongs to an element that must not stand out over the plot. */
  within: { clipPath: string };
}

/** Draws what is in the plot. */
export type PlotLayer = (places: PlotPlaces) => ReactNode;

/** What a plot shows. */
export interface Plotted {
  frame: PlotFrame;
  /** What is to be seen, for those who hear it. */
  spoken: string;
  layer: PlotLayer;
}

const Layers = createContext<PlotLayer>(() => null);

/**
 * A plot: recharts draws its frame once, and inside it stands one light layer of our own. While readings come only the layer is
 * drawn anew, which is a path or two; the library would work out every element of the chart again.
 */
export function Plot(props: Plotted) {
  return (
    <div className="chart-drawing" role="img" aria-label={props.spoken}>
      <Layers.Provider value={props.layer}>
        <Frame frame={props.frame} />
      </Layers.Provider>
    </div>
  );
}

const Frame = memo(
  function Frame({ frame }: { frame: PlotFrame }) {
    const { x, y, levels, bands, above = 8 } = frame;
    const axisWidth = useAxisWidth();
    const hatching = useId();
    const clip = useId();
    const atSide = levels.filter(({ on }) => on === 'y');
    const apart = wordsApart(atSide.map(({ at }) => (at - y.from) / (y.to - y.from)));
    const words = atSide.flatMap((level) => level.words ?? []);
    const wordsAbove = levels.flatMap((level) => (level.on === 'x' ? (level.words ?? []) : []));
    const lastX = x.ticks.at(-1);
    return (
      <ResponsiveContainer width="100%" height="100%">
        <LineChart
          // Without data the library has no scale, no levels and no bands; two points without a line are not seen.
          data={[{ at: x.from }, { at: x.to }]}
          margin={{
            top: above,
            // What stands above a level or below a mark at the edge reaches over it by half.
            right:
              words.length > 0
                ? axisWidth(words)
                : Math.max(12 + 4 * (lastX?.text.length ?? 0), wordsAbove.length > 0 ? axisWidth(wordsAbove) / 2 : 0),
            bottom: 0,
            left: 0,
          }}
          accessibilityLayer={false}
        >
          <Hatching id={hatching} />
          {bands.map(({ on, from, to, kind }) => (
            <ReferenceArea
              key={`${kind} ${from}`}
              className={kind === 'guard' ? 'chart-guard' : 'chart-band'}
              {...(kind === 'guard' && { fill: `url(#${hatching})`, fillOpacity: 1 })}
              {...(on === 'x' ? { x1: from, x2: to } : { y1: from, y2: to })}
              ifOverflow="hidden"
            />
          ))}
          <XAxis
            dataKey="at"
            type="number"
            domain={[x.from, x.to]}
            allowDataOverflow
            ticks={x.ticks.map(({ at }) => at)}
            tickFormatter={(value: number) => textAt(x, value)}
            tick={TICK_TEXT}
            tickLine={false}
            interval={0}
          />
          <YAxis
            type="number"
            domain={[y.from, y.to]}
            allowDataOverflow
            ticks={y.ticks.map(({ at }) => at)}
            tickFormatter={(value: number) => textAt(y, value)}
            tick={TICK_TEXT}
            tickMargin={8}
            tickLine={false}
            axisLine={false}
            width={axisWidth(y.ticks.map(({ text }) => text))}
            interval={0}
          />
          {levels.map((level) => {
            const { on, at, kind } = level;
            const label =
              level.words === undefined
                ? {}
                : on === 'y'
                  ? {
                      label: {
                        value: level.words,
                        position: 'right' as const,
                        dy: apart[atSide.indexOf(level)] as number,
                        ...TICK_TEXT,
                      },
                    }
                  : { label: { value: level.words, position: 'top' as const, offset: 14, ...TICK_TEXT } };
            return (
              <ReferenceLine
                key={`${kind} ${at} ${level.words}`}
                className={`chart-level-${kind}`}
                {...(on === 'x' ? { x: at } : { y: at })}
                {...label}
                ifOverflow="hidden"
              />
            );
          })}
          <ZIndexLayer zIndex={BELOW_LEVELS}>
            <Layer clip={clip} />
          </ZIndexLayer>
        </LineChart>
      </ResponsiveContainer>
    );
  },
  (before, after) => JSON.stringify(before.frame) === JSON.stringify(after.frame),
);

/** Whether a line has so many points that it fills the plot: it is drawn finer then. */
export function isDense(points: number, { width }: PlotPlaces): boolean {
  return points > width;
}

function textAt({ ticks }: PlotAxis, value: number): string {
  return ticks.find(({ at }) => at === value)?.text ?? '';
}

function Layer({ clip }: { clip: string }) {
  const draw = useContext(Layers);
  const area = usePlotArea();
  const x = useXAxisScale();
  const y = useYAxisScale();
  if (!area || !x || !y || area.width <= 0 || area.height <= 0) return null;
  return (
    <g className="chart-layer">
      <clipPath id={clip}>
        <rect x={area.x} y={area.y} width={area.width} height={area.height} />
      </clipPath>
      {draw({
        x: (value) => x(value) ?? 0,
        y: (value) => y(value) ?? 0,
        width: area.width,
        within: { clipPath: `url(#${clip})` },
      })}
    </g>
  );
}

/** The library draws bands at 100 and levels at 400: a limit is seen over the densest line. */
const BELOW_LEVELS = 300;
