import type { Colour } from '../../core/marking/colour.ts';
import './bandsDrawn.css';

const WIDTH = 420;
const HEIGHT = 104;
const BODY = { left: 24, width: 372, top: 12, height: 60 };
const BAND_WIDTH = 26;
const MOST_STEP = 66;

/** Where the middle of each band is drawn, from left to right. All gaps are alike: the drawing must not say which way it is read. */
export function bandPlaces(count: number): number[] {
  const gaps = Math.max(1, count - 1);
  const step = Math.min(MOST_STEP, (BODY.width - 64) / gaps);
  const begin = BODY.left + BODY.width / 2 - (step * (count - 1)) / 2;
  return Array.from({ length: count }, (_, at) => begin + step * at);
}

/** A part with its colour bands, each with its name: no colour says anything by itself. */
export function BandsDrawn({ colours }: { colours: readonly Colour[] }) {
  const places = bandPlaces(colours.length);
  const middle = BODY.top + BODY.height / 2;
  const label = colours.length === 0 ? 'A part without bands yet' : `Bands: ${colours.join(', ')}`;
  return (
    <svg className="bands-drawn" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={label}>
      <path className="bands-lead" d={`M0 ${middle}H${BODY.left}M${BODY.left + BODY.width} ${middle}H${WIDTH}`} />
      <rect className="bands-body" x={BODY.left} y={BODY.top} width={BODY.width} height={BODY.height} rx={22} />
      {colours.map((colour, at) => {
        const x = places[at] ?? 0;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: a band is its place
          <g key={at}>
            <rect
              className={`band band-${colour}`}
              x={x - BAND_WIDTH / 2}
              y={BODY.top}
              width={BAND_WIDTH}
              height={BODY.height}
            />
            <text className="bands-name" x={x} y={HEIGHT - 12} textAnchor="middle">
              {colour}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
