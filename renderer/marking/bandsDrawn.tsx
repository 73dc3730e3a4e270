import type { Colour } from '../../core/marking/colour.ts';
import './bandsDrawn.css';

const WIDTH = 420;
const HEIGHT = 104;
const BODY = { left: 24, width: 372, top: 12, height: 60 };
const BAND_WIDTH = 26;
/** The last band of four and more stands further away: that is how the end is told on a part. */
const APART = 0.6;
const LEAST_WITH_END = 4;

/** Where the middle of each band is drawn, from left to right. */
export function bandPlaces(count: number): number[] {
  const gaps = count - 1 + (count >= LEAST_WITH_END ? APART : 0);
  const step = gaps === 0 ? 0 : Math.min(66, (BODY.width - 64) / gaps);
  const begin = BODY.left + BODY.width / 2 - (step * gaps) / 2;
  return Array.from({ length: count }, (_, at) => {
    const isEnd = count >= LEAST_WITH_END && at === count - 1;
    return begin + step * (at + (isEnd ? APART : 0));
  });
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
