import { useId } from 'react';
import type { Reading } from '../../core/inspection/run.ts';
import { conforms } from '../../core/window/judge.ts';
import type { Window } from '../../core/window/window.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import { standingOf, VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { acceptanceText } from '../words/decision.ts';
import { limitText, readingText, windowText } from '../words/ohms.ts';
import { type Guard, guardBands, type Stretch } from './guardBands.ts';
import { Hatching } from './hatching.tsx';
import { placeOn, type WindowScale, windowScale, within } from './windowScale.ts';
import './windowBar.css';

type Piece = Pick<Reading, 'ohms' | 'uncertainty' | 'verdict' | 'suspect' | 'raw' | 'piece' | 'reading'>;

/** How many pieces before the last one leave a tick. */
export const TICKS = 20;
/** Labels nearer than this share of the line would touch. */
const LABEL_ROOM = 0.13;

const percent = (share: number) => `${(share * 100).toFixed(3)}%`;

/**
 * The window as a band on a line that reaches half a window beyond each side, its guard bands hatched, the nominal as a
 * notch, a piece as the mark of its verdict with a whisker of its uncertainty, those before it as fading ticks. What lies
 * beyond the line points over its end.
 * @param guard of which the guard bands are drawn; without it there are none
 * @param recent the pieces before, latest last
 */
export function WindowBar(props: {
  window: Window;
  guard?: Guard;
  piece?: Piece | undefined;
  recent?: readonly Piece[];
  size?: 'large' | 'small';
}) {
  const { window, guard, piece, recent = [], size = 'small' } = props;
  const scale = windowScale(window);
  const hatching = useId();
  return (
    <figure className={`window-bar window-bar-${size}`} role="img" aria-label={spoken(window, guard, piece)}>
      <svg className="window-bar-drawing" width="100%" height="100%" aria-hidden="true" focusable="false">
        <line className="window-bar-line" x1="0" x2="100%" y1="50%" y2="50%" />
        <rect
          className="window-bar-band"
          x={percent(scale.band.start)}
          width={percent(scale.band.end - scale.band.start)}
          y="24%"
          height="52%"
        />
        <Hatching id={hatching} />
        {guard &&
          guardBands(window, guard).map((band) => (
            <Bar key={band.from} className="window-bar-guard" fill={`url(#${hatching})`} scale={scale} stretch={band} />
          ))}
        {window.lower !== null && <Limit at={scale.band.start} />}
        {window.upper !== null && <Limit at={scale.band.end} />}
        {scale.nominal !== null && scale.nominal >= 0 && scale.nominal <= 1 && (
          <svg x={percent(scale.nominal)} y="24%" className="window-bar-at" aria-hidden="true">
            <path className="window-bar-notch" d="M -5 -1 L 5 -1 L 0 7 Z" />
          </svg>
        )}
        {recent.slice(-TICKS).map((before, index, shown) => (
          <Tick key={before.reading} scale={scale} piece={before} age={shown.length - index} />
        ))}
        {piece && <Mark scale={scale} piece={piece} size={size === 'large' ? 26 : 16} />}
      </svg>
      <Labels window={window} scale={scale} withNominal={size === 'large'} />
    </figure>
  );
}

function Bar(props: { scale: WindowScale; stretch: Stretch; className: string; fill: string }) {
  const { from, to } = within(props.scale, props.stretch);
  return (
    <rect
      className={props.className}
      fill={props.fill}
      x={percent(from)}
      width={percent(to - from)}
      y="24%"
      height="52%"
    />
  );
}

function Limit({ at }: { at: number }) {
  return <line className="window-bar-limit" x1={percent(at)} x2={percent(at)} y1="10%" y2="90%" />;
}

function Tick({ scale, piece, age }: { scale: WindowScale; piece: Piece; age: number }) {
  const { at, beyond } = placeOn(scale, piece.ohms);
  const className = conforms(piece.verdict) ? 'window-bar-tick' : 'window-bar-tick window-bar-tick-nonconforming';
  const opacity = Math.max(0.12, 1 - age / (TICKS + 1));
  if (piece.suspect) {
    return (
      <svg x={percent(at)} y="82%" className="window-bar-at" opacity={Math.max(0.5, opacity)} aria-hidden="true">
        <g transform="scale(0.13)">
          <VerdictShape verdict="suspect" />
        </g>
      </svg>
    );
  }
  if (beyond) {
    const way = beyond === 'above' ? 1 : -1;
    return (
      <svg x={percent(at)} y="82%" className="window-bar-at" opacity={opacity} aria-hidden="true">
        <path className={className} d={`M ${-4 * way} -5 L ${2 * way} 0 L ${-4 * way} 5`} fill="none" />
      </svg>
    );
  }
  return <line className={className} opacity={opacity} x1={percent(at)} x2={percent(at)} y1="66%" y2="98%" />;
}

function Mark({ scale, piece, size }: { scale: WindowScale; piece: Piece; size: number }) {
  const { at, beyond } = placeOn(scale, piece.ohms);
  // Beyond the line the mark stands at its end, before an arrow that points on.
  const way = beyond === 'above' ? 1 : -1;
  const inset = beyond ? -way * (size / 2 + 12) : 0;
  return (
    <>
      {!beyond && <Whisker scale={scale} piece={piece} />}
      <svg x={percent(at)} y="50%" className="window-bar-at" aria-hidden="true">
        {beyond && <path className="window-bar-beyond" d={`M ${-10 * way} -7 L ${-1 * way} 0 L ${-10 * way} 7`} />}
        <g transform={`translate(${inset} 0)`}>
          <circle className="window-bar-halo" r={size / 2 + 3} />
          <g transform={`scale(${size / 100})`}>
            <VerdictShape verdict={standingOf(piece)} way="right" />
          </g>
        </g>
      </svg>
    </>
  );
}

/** From a value less its expanded uncertainty to the value with it, as far as the line reaches. */
function Whisker({ scale, piece }: { scale: WindowScale; piece: Piece }) {
  if (piece.ohms === null || piece.uncertainty === null) return null;
  const [ohms, expanded] = [Number(piece.ohms), Number(piece.uncertainty.expandedOhms)];
  const { from, to } = within(scale, { from: ohms - expanded, to: ohms + expanded });
  return (
    <g className="window-bar-whisker">
      <line x1={percent(from)} x2={percent(to)} y1="50%" y2="50%" />
      <line x1={percent(from)} x2={percent(from)} y1="36%" y2="64%" />
      <line x1={percent(to)} x2={percent(to)} y1="36%" y2="64%" />
    </g>
  );
}

function Labels(props: { window: Window; scale: WindowScale; withNominal: boolean }) {
  const { window, scale } = props;
  const { start, end } = scale.band;
  const nominal = props.withNominal ? scale.nominal : null;
  const hasRoom =
    nominal !== null &&
    (window.lower === null || nominal - start > LABEL_ROOM) &&
    (window.upper === null || end - nominal > LABEL_ROOM);
  return (
    <div className="window-bar-labels figures" aria-hidden="true">
      {window.lower !== null && <span style={{ left: percent(start) }}>{limitText(window.lower, window)}</span>}
      {window.nominal !== null && hasRoom && nominal !== null && (
        <span
          className="window-bar-nominal"
          // At the very end of the line its middle would stand out over the edge.
          style={{ left: percent(nominal), ...(nominal < 0.02 && { translate: '50%' }) }}
        >
          {limitText(window.nominal, window)}
        </span>
      )}
      {window.upper !== null && <span style={{ left: percent(end) }}>{limitText(window.upper, window)}</span>}
    </div>
  );
}

function spoken(window: Window, guard: Guard | undefined, piece: Piece | undefined): string {
  const nominal = window.nominal === null ? '' : `, nominal ${limitText(window.nominal, window)}`;
  const acceptance = guard && acceptanceText(window, guard.decision, guard.expandedOhms);
  const within = acceptance ? ` Within the guard bands: ${acceptance}.` : '';
  const mark = piece
    ? ` Piece ${piece.piece}: ${readingText(piece, window)}, ${VERDICT_WORDS[standingOf(piece)].toLowerCase()}.`
    : '';
  return `Window: ${windowText(window)}${nominal}.${within}${mark}`;
}
