import { type KeyboardEvent, useDeferredValue, useMemo, useRef, useState } from 'react';
import { findParts } from '../../core/part/findParts.ts';
import type { PartInput } from '../../core/part/part.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { formatCount } from '../words/count.ts';
import { planWords, valueWords } from './partWords.ts';
import type { PartsKnown } from './useParts.ts';

/** Rows drawn at a time: as many as are looked through before one types more. */
const ROWS = 50;

/** All parts, or those found by what is typed, the likeliest first. */
export function PartsList(props: {
  known: PartsKnown;
  typed: string;
  onType: (typed: string) => void;
  onOpen: (part: PartInput) => void;
}) {
  const { known, typed } = props;
  const [most, setMost] = useState(ROWS);
  const place = useRef<HTMLDivElement>(null);
  const sought = useDeferredValue(typed);
  const { first, count } = useMemo(() => findParts(known.index, sought, most), [known, sought, most]);

  function type(to: string) {
    setMost(ROWS);
    props.onType(to);
  }

  function keyDown(event: KeyboardEvent) {
    const buttons = [...(place.current?.querySelectorAll<HTMLElement>('.parts-open') ?? [])];
    const at = buttons.indexOf(event.target as HTMLElement);
    const isField = event.target instanceof HTMLInputElement;
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      const next = at + (event.key === 'ArrowDown' ? 1 : -1);
      const to = next < 0 ? place.current?.querySelector('input') : buttons[next];
      event.preventDefault();
      to?.focus();
    } else if (event.key === 'Enter' && isField && first[0]) {
      event.preventDefault();
      props.onOpen(first[0]);
    } else if (event.key === 'Escape' && isField) {
      // Out of the field first: there the keys of the screen work again.
      event.preventDefault();
      event.stopPropagation();
      if (typed === '') (event.target as HTMLInputElement).blur();
      else type('');
    }
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: arrow keys go from the field through the parts found
    <div ref={place} className="parts-list" onKeyDown={keyDown}>
      <div className="parts-find">
        <TextField
          label="Find by number, value, description or supplier"
          name="find"
          value={typed}
          onChange={type}
          hint="every word counts: 4k7 1 % film; Enter opens the first, ↓ goes through them"
        />
        <Action keyName="f" onPress={() => place.current?.querySelector('input')?.focus()}>
          Find
        </Action>
      </div>
      <p role="status" className="small">
        {typed.trim() === ''
          ? `${formatCount(count)} ${count === 1 ? 'part' : 'parts'}`
          : `${formatCount(count)} of ${formatCount(known.parts.length)} found`}
      </p>
      {count === 0 ? (
        <p>Nothing is found by these words. Take one away, or write the value in another way.</p>
      ) : (
        <Table parts={first} onOpen={props.onOpen} />
      )}
      {count > first.length && (
        <div className="actions">
          <Action onPress={() => setMost((before) => before + ROWS)}>
            Show {formatCount(Math.min(ROWS, count - first.length))} more
          </Action>
          <span className="quiet small">
            {formatCount(first.length)} of {formatCount(count)} shown
          </span>
        </div>
      )}
    </div>
  );
}

function Table({ parts, onOpen }: { parts: readonly PartInput[]; onOpen: (part: PartInput) => void }) {
  return (
    <div className="parts-table-frame">
      <table className="parts-table">
        <thead>
          <tr>
            <th scope="col">Part number</th>
            <th scope="col">Value</th>
            <th scope="col">Description</th>
            <th scope="col">Supplier</th>
            <th scope="col">Plan</th>
          </tr>
        </thead>
        <tbody>
          {parts.map((part) => (
            <tr key={part.number}>
              <th scope="row">
                <button type="button" className="action parts-open" onClick={() => onOpen(part)}>
                  {part.number}
                </button>
              </th>
              <td className="figures">{valueWords(part)}</td>
              <td>{part.description}</td>
              <td>{part.supplier}</td>
              <td>{planWords(part)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
