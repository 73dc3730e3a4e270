import { type KeyboardEvent, type ReactNode, useState } from 'react';
import { formatCount } from '../words/count.ts';

/** Rows a table may have on the screen. */
export const MOST_ROWS = 200;

/** Tells which resistor is looked at, so that the drawing shows it; null for none. */
export type Show = (name: string | null) => void;

export interface ResistorRow {
  key: string;
  /** The resistor it is about; null where it is about none. */
  name: string | null;
  cells: ReactNode;
}

/**
 * The rows of a table about resistors. The one under the mouse, or that has the focus, is shown in the drawing; Tab leads to the rows
 * once, the arrow keys from row to row.
 */
export function ResistorRows({ rows, onShow }: { rows: readonly ResistorRow[]; onShow: Show }) {
  const [at, setAt] = useState(0);
  const shown = rows.slice(0, MOST_ROWS);
  const entry = Math.min(at, shown.length - 1);
  return (
    <tbody>
      {shown.map(({ key, name, cells }, index) => (
        <tr
          key={key}
          tabIndex={index === entry ? 0 : -1}
          onKeyDown={toNeighbour}
          onFocus={() => {
            setAt(index);
            onShow(name);
          }}
          onBlur={() => onShow(null)}
          onPointerEnter={() => onShow(name)}
          onPointerLeave={() => onShow(null)}
        >
          {cells}
        </tr>
      ))}
    </tbody>
  );
}

function toNeighbour(event: KeyboardEvent<HTMLTableRowElement>): void {
  const row = event.currentTarget;
  const next =
    event.key === 'ArrowDown' ? row.nextElementSibling : event.key === 'ArrowUp' ? row.previousElementSibling : null;
  if (!(next instanceof HTMLElement)) return;
  event.preventDefault();
  next.focus();
}

/** Says of a table that is cut how many rows are not there. */
export function MoreRows({ count }: { count: number }) {
  if (count <= MOST_ROWS) return null;
  return (
    <p>
      The first {formatCount(MOST_ROWS)} of {formatCount(count)}; {formatCount(count - MOST_ROWS)} more are not shown.
    </p>
  );
}
