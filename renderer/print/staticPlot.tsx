import { useId } from 'react';
import type { PlotAxis, PlotFrame, PlotLayer } from '../charts/plot.tsx';
import { Hatching } from '../windowBar/hatching.tsx';
import '../windowBar/windowBar.css';
import '../charts/charts.css';

/** The drawing is scaled to the paper's width; these are its own units. */
const WIDTH = 720;
const TEXT = 11;
const [ABOVE, BELOW, BEFORE_TEXT] = [12, 20, 8];
/** A digit is 0.6 of the text's height. */
const LETTER = 0.6 * TEXT;

/** The frame of a plot drawn once, without a library and at no screen's size: for paper. */
export function StaticPlot(props: { frame: PlotFrame; spoken: string; layer: PlotLayer; height: number }) {
  const { frame, layer, height } = props;
  const [hatching, clip] = [useId(), useId()];
  const { x, y } = frame;
  const left = Math.max(...y.ticks.map(({ text }) => text.length)) * LETTER + BEFORE_TEXT + LETTER;
  const last = x.ticks.at(-1)?.text.length ?? 0;
  const area = { left, right: WIDTH - (last * LETTER) / 2 - 2, top: ABOVE, bottom: height - BELOW };
  const placeX = along(x, area.left, area.right);
  const placeY = along(y, area.bottom, area.top);
  const inside = `url(#${clip})`;
  return (
    <svg
      className="static-plot chart-drawing"
      viewBox={`0 0 ${WIDTH} ${height}`}
      role="img"
      aria-label={props.spoken}
      fontSize={TEXT}
    >
      <Hatching id={hatching} />
      <clipPath id={clip}>
        <rect x={area.left} y={area.top} width={area.right - area.left} height={area.bottom - area.top} />
      </clipPath>
      {frame.bands.map(({ on, from, to, kind }) => {
        const [place, start, end] = on === 'x' ? [placeX, area.left, area.right] : [placeY, area.top, area.bottom];
        const [low, high] = [place(from), place(to)].sort((one, other) => one - other) as [number, number];
        const [first, beyond] = [Math.max(start, low), Math.min(end, high)];
        if (beyond <= first) return null;
        const box =
          on === 'x'
            ? { x: first, width: beyond - first, y: area.top, height: area.bottom - area.top }
            : { y: first, height: beyond - first, x: area.left, width: area.right - area.left };
        return (
          <rect
            key={`${kind} ${from}`}
            className={kind === 'guard' ? 'static-guard' : 'static-band'}
            {...(kind === 'guard' && { fill: `url(#${hatching})` })}
            {...box}
          />
        );
      })}
      <g className="chart-layer">
        {layer({ x: placeX, y: placeY, width: area.right - area.left, within: { clipPath: inside } })}
      </g>
      {frame.levels.map(({ on, at, kind }) => {
        const place = on === 'x' ? placeX(at) : placeY(at);
        const line =
          on === 'x'
            ? { x1: place, x2: place, y1: area.top, y2: area.bottom }
            : { y1: place, y2: place, x1: area.left, x2: area.right };
        return (
          <g key={`${kind} ${at}`} className={`chart-level-${kind}`}>
            <line {...line} />
          </g>
        );
      })}
      <line className="static-axis" x1={area.left} x2={area.right} y1={area.bottom} y2={area.bottom} />
      {x.ticks.map(({ at, text }) => (
        <text key={at} x={placeX(at)} y={height - 5} textAnchor="middle">
          {text}
        </text>
      ))}
      {y.ticks.map(({ at, text }) => (
        <text key={at} x={area.left - BEFORE_TEXT} y={placeY(at)} dy="0.35em" textAnchor="end">
          {text}
        </text>
      ))}
    </svg>
  );
}

/** Where values of an axis lie between two places of the drawing. */
function along({ from, to }: PlotAxis, start: number, end: number): (value: number) => number {
  const scale = (end - start) / (to - from || 1);
  return (value) => start + (value - from) * scale;
}
