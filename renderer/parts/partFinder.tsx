import { type KeyboardEvent, useDeferredValue, useId, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { findParts, type PartsIndex, partNumbered } from '../../core/part/findParts.ts';
import type { PartInput } from '../../core/part/part.ts';
import { formatCount } from '../words/count.ts';
import { valueWords } from './partWords.ts';
import '../controls/field.css';
import './partFinder.css';

/** As many as are looked over at a glance. */
const MOST_SHOWN = 7;

/**
 * The part number as a field that finds parts as it is typed in: arrow keys go through what was found, Enter chooses, Escape puts
 * it away. What is typed stands whether it is found or not.
 */
export function PartFinder(props: {
  label: string;
  name: string;
  value: string;
  onChange: (value: string) => void;
  onBlur: () => void;
  problem: string | undefined;
  /** The parts list; null until it is there. */
  index: PartsIndex | null;
  /** The number of the part the form is filled from. */
  chosen: string | null;
  onChoose: (part: PartInput) => void;
  autoFocus?: boolean;
}) {
  const { index, value, chosen } = props;
  const id = useId();
  const [isOpen, setOpen] = useState(false);
  const [active, setActive] = useState<number | null>(null);
  const sought = useDeferredValue(value);
  const found = useMemo(() => (index && isOpen ? findParts(index, sought, MOST_SHOWN) : null), [index, isOpen, sought]);
  const shown = found && found.count > 0 ? found.first : [];
  const listed = isOpen && shown.length > 0;
  const list = useRef<HTMLDivElement>(null);
  // On a low screen what was found lies below it.
  useLayoutEffect(() => {
    if (listed) list.current?.scrollIntoView({ block: 'nearest' });
  }, [listed]);

  function choose(part: PartInput | undefined) {
    setOpen(false);
    setActive(null);
    if (part) props.onChoose(part);
  }

  function keyDown(event: KeyboardEvent) {
    const { key } = event;
    if (key === 'ArrowDown' || key === 'ArrowUp') {
      event.preventDefault();
      if (!listed) return setOpen(true);
      const step = key === 'ArrowDown' ? 1 : -1;
      const from = active ?? (step > 0 ? -1 : shown.length);
      return setActive((from + step + shown.length) % shown.length);
    }
    if (key === 'Escape' && listed) {
      event.preventDefault();
      event.stopPropagation();
      return choose(undefined);
    }
    if (key !== 'Enter') return;
    const exact = index && value !== chosen ? partNumbered(index, value) : null;
    const part = listed && active !== null ? shown[active] : (exact ?? undefined);
    if (!part) return;
    // It chooses, and does not receive the lot yet.
    event.preventDefault();
    choose(part);
  }

  const said = props.problem ? `${id}-problem` : `${id}-hint`;
  return (
    <div className="field part-finder">
      <div className="field-label">
        <label htmlFor={id}>{props.label}</label>
      </div>
      <input
        id={id}
        name={props.name}
        type="text"
        role="combobox"
        value={value}
        onChange={(event) => {
          setActive(null);
          setOpen(event.target.value.trim() !== '');
          props.onChange(event.target.value);
        }}
        onKeyDown={keyDown}
        onBlur={() => {
          setOpen(false);
          setActive(null);
          props.onBlur();
        }}
        // biome-ignore lint/a11y/noAutofocus: a step of the job begins at its first field, hands are on the keyboard
        autoFocus={props.autoFocus}
        autoComplete="off"
        spellCheck={false}
        aria-required
        aria-invalid={props.problem ? true : undefined}
        aria-describedby={said}
        aria-autocomplete="list"
        aria-expanded={listed}
        aria-controls={listed ? `${id}-list` : undefined}
        aria-activedescendant={listed && active !== null ? `${id}-${active}` : undefined}
      />
      {listed && (
        <div ref={list} className="part-finder-found">
          <div id={`${id}-list`} role="listbox" aria-label="Parts found">
            {shown.map((part, at) => (
              // biome-ignore lint/a11y/useFocusableInteractive: the focus stays in the field, which names what is active
              // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are those of the field
              <div
                key={part.number}
                id={`${id}-${at}`}
                role="option"
                aria-selected={at === active}
                className="part-finder-part"
                // The field must not lose the focus before it is chosen.
                onPointerDown={(event) => event.preventDefault()}
                onClick={() => choose(part)}
              >
                <strong>{part.number}</strong>
                <span className="figures">{valueWords(part)}</span>
                {(part.description || part.supplier) && (
                  <span className="quiet small">{[part.description, part.supplier].filter(Boolean).join(', ')}</span>
                )}
              </div>
            ))}
          </div>
          <p className="part-finder-more quiet small">
            {found && found.count > shown.length
              ? `${formatCount(shown.length)} of ${formatCount(found.count)}: type more to find others. `
              : ''}
            ↓ ↑ and Enter choose
          </p>
        </div>
      )}
      {props.problem ? (
        <p className="field-problem" id={`${id}-problem`}>
          {props.problem}
        </p>
      ) : (
        <p className="field-hint" id={`${id}-hint`}>
          {index === null || index.entries.length > 0 ? 'type or scan it' : 'no parts are kept yet'}
        </p>
      )}
      <p className="unseen" role="status">
        {listed ? `${formatCount(found?.count ?? 0)} found` : ''}
      </p>
    </div>
  );
}
