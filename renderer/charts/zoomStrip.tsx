import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { centred, fitted, isWhole, moved, type View, zoomed } from '../../core/chart/view.ts';
import { Action } from '../controls/action.tsx';
import { formatCount } from '../words/count.ts';

/** With fewer points than this everything is seen at once. */
export const WORTH_ZOOMING = 100;

/** How much nearer or further a press goes, how far along as a share of what is shown. */
const NEARER = 0.5;
const STEP = 0.25;
/** Less than this share of the strip is no drag but a press. */
const A_PRESS = 0.01;

/** Pixels to each side of the middle of what is shown where it is taken hold of, if it is no wider. */
const HOLD = 22;

/** The strip's own coordinates. */
const WIDE = 1000;
const HIGH = 100;

/** What each key makes of the view. */
const KEYS: Record<string, (view: View, whole: View) => View> = {
  '+': (view, whole) => zoomed(view, NEARER, whole),
  '=': (view, whole) => zoomed(view, NEARER, whole),
  '-': (view, whole) => zoomed(view, 1 / NEARER, whole),
  ArrowLeft: (view, whole) => moved(view, -STEP, whole),
  ArrowRight: (view, whole) => moved(view, STEP, whole),
  ArrowDown: (view, whole) => moved(view, -STEP, whole),
  ArrowUp: (view, whole) => moved(view, STEP, whole),
  PageDown: (view, whole) => moved(view, -1, whole),
  PageUp: (view, whole) => moved(view, 1, whole),
  Home: (view, whole) => centred(view, whole.from, whole),
  End: (view, whole) => centred(view, whole.to, whole),
};

/**
 * The whole of a chart, small, with what is shown of it: dragged along, drawn anew by dragging beside it, or moved by keys.
 * @param outline the whole as points, both coordinates from 0 to 1, up being 1
 * @param what the axis counts, like `readings`
 */
export function ZoomStrip(props: {
  whole: View;
  view: View;
  onView: (view: View) => void;
  outline: readonly (readonly [x: number, y: number])[];
  what: string;
  /** Said behind what is shown. */
  note?: string;
}) {
  const { whole, view, onView, outline, what } = props;
  const strip = useRef<HTMLDivElement>(null);
  const drag = useRef<{ from: number; view: View; moves: boolean } | null>(null);
  const due = useRef<number | null>(null);
  const span = whole.to - whole.from;
  const share = (at: number) => (at - whole.from) / span;

  const at = (event: PointerEvent): number => {
    const box = event.currentTarget.getBoundingClientRect();
    return whole.from + Math.min(1, Math.max(0, (event.clientX - box.left) / box.width)) * span;
  };
  const down = (event: PointerEvent) => {
    const place = at(event);
    // However little is shown, it can be taken hold of.
    const reach = Math.max(
      (view.to - view.from) / 2,
      (HOLD * span) / event.currentTarget.getBoundingClientRect().width,
    );
    const moves = !isWhole(view, whole) && Math.abs(place - (view.from + view.to) / 2) <= reach;
    drag.current = { from: place, view, moves };
    event.currentTarget.setPointerCapture(event.pointerId);
  };
  const drawn = (event: PointerEvent) => {
    const held = drag.current;
    if (!held) return;
    const place = at(event);
    const next = held.moves
      ? fitted({ from: held.view.from + place - held.from, to: held.view.to + place - held.from }, whole)
      : Math.abs(place - held.from) > A_PRESS * span
        ? fitted({ from: Math.min(place, held.from), to: Math.max(place, held.from) }, whole)
        : null;
    if (next === null || due.current !== null) return;
    // A pointer tells of its moves more often than the screen is painted.
    due.current = requestAnimationFrame(() => {
      due.current = null;
      onView(next);
    });
  };
  const up = (event: PointerEvent) => {
    const held = drag.current;
    drag.current = null;
    if (held && !held.moves && Math.abs(at(event) - held.from) <= A_PRESS * span) {
      onView(centred(held.view, held.from, whole));
    }
  };
  const key = (event: KeyboardEvent) => {
    const change = KEYS[event.key];
    if (!change || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    onView(change(view, whole));
  };

  const shown = `${what} ${formatCount(Math.ceil(view.from))} to ${formatCount(Math.floor(view.to))} of ${formatCount(Math.floor(whole.to))}`;
  return (
    <div className="zoom">
      <div
        ref={strip}
        className="zoom-strip"
        role="slider"
        tabIndex={0}
        aria-label={`Which ${what} are shown; plus and minus go nearer and further`}
        aria-valuemin={Math.ceil(whole.from)}
        aria-valuemax={Math.floor(whole.to)}
        aria-valuenow={Math.round((view.from + view.to) / 2)}
        aria-valuetext={shown}
        aria-keyshortcuts="+ - ArrowLeft ArrowRight Home End"
        onKeyDown={key}
        onPointerDown={down}
        onPointerMove={drawn}
        onPointerUp={up}
        onPointerCancel={() => {
          drag.current = null;
        }}
      >
        <svg viewBox={`0 0 ${WIDE} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true" focusable="false">
          <path
            className="zoom-outline"
            d={outline
              .map(
                ([x, y], index) => `${index === 0 ? 'M' : 'L'}${(x * WIDE).toFixed(1)} ${((1 - y) * HIGH).toFixed(1)}`,
              )
              .join('')}
          />
          <rect
            className="zoom-view"
            x={share(view.from) * WIDE}
            width={Math.max(2, (share(view.to) - share(view.from)) * WIDE)}
            y="0"
            height={HIGH}
          />
        </svg>
      </div>
      <div className="zoom-ways">
        <Action label={`Nearer: fewer ${what}`} onPress={() => onView(zoomed(view, NEARER, whole))}>
          Nearer <span aria-hidden="true">+</span>
        </Action>
        <Action
          label={`Further: more ${what}`}
          disabled={isWhole(view, whole)}
          onPress={() => onView(zoomed(view, 1 / NEARER, whole))}
        >
          Further <span aria-hidden="true">−</span>
        </Action>
        <span className="quiet small" aria-live="off">
          {shown}
          {props.note}
        </span>
      </div>
    </div>
  );
}
