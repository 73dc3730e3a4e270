import { type ReactNode, useId } from 'react';
import type { TermName } from '../terms/terms.ts';
import { openMeaning, WhatItMeans } from '../terms/whatItMeans.tsx';
import './field.css';

interface FieldProps {
  label: string;
  value: string;
  onChange: (value: string) => void;
  /** What is wrong with it, shown beside it. */
  problem?: string | undefined;
  hint?: ReactNode;
  onBlur?: (() => void) | undefined;
  name?: string;
  /** The term whose meaning is shown behind the label on demand. */
  term?: TermName;
}

function Frame(props: Pick<FieldProps, 'label' | 'problem' | 'hint' | 'term'> & { id: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: F1 belongs to the field inside
    <div className="field" onKeyDown={openMeaning}>
      <div className="field-label">
        <label htmlFor={props.id}>{props.label}</label>
        {props.term && <WhatItMeans term={props.term} />}
      </div>
      {props.children}
      {props.problem && (
        <p className="field-problem" id={`${props.id}-problem`}>
          {props.problem}
        </p>
      )}
      {props.hint && !props.problem && (
        <p className="field-hint" id={`${props.id}-hint`}>
          {props.hint}
        </p>
      )}
    </div>
  );
}

const describedBy = (id: string, props: FieldProps) =>
  props.problem ? `${id}-problem` : props.hint ? `${id}-hint` : undefined;

/** One line of text with its label, and beside it a hint or what is wrong. */
export function TextField(
  props: FieldProps & {
    inputMode?: 'numeric' | 'decimal';
    machine?: boolean;
    autoFocus?: boolean;
    required?: boolean;
    /** What is offered while it is typed; anything else may be typed as well. */
    offered?: readonly string[];
  },
) {
  const id = useId();
  return (
    <Frame {...props} id={id}>
      <input
        id={id}
        name={props.name}
        type="text"
        className={props.machine ? 'machine' : undefined}
        inputMode={props.inputMode}
        value={props.value}
        onChange={(event) => props.onChange(event.target.value)}
        onBlur={props.onBlur}
        // biome-ignore lint/a11y/noAutofocus: a step of the job begins at its first field, hands are on the keyboard
        autoFocus={props.autoFocus}
        autoComplete="off"
        spellCheck={false}
        aria-required={props.required}
        aria-invalid={props.problem ? true : undefined}
        aria-describedby={describedBy(id, props)}
        list={props.offered && `${id}-offered`}
      />
      {props.offered && (
        <datalist id={`${id}-offered`}>
          {props.offered.map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
      )}
    </Frame>
  );
}

/** A choice among a few, as a list that drops down. */
export function ChoiceField<T extends string>(
  props: Omit<FieldProps, 'onChange'> & {
    onChange: (value: T) => void;
    choices: readonly (readonly [value: T, words: string])[];
  },
) {
  const id = useId();
  const field = { ...props, onChange: () => {} };
  return (
    <Frame {...field} id={id}>
      <select
        id={id}
        name={props.name}
        value={props.value}
        onChange={(event) => props.onChange(event.target.value as T)}
        aria-invalid={props.problem ? true : undefined}
        aria-describedby={describedBy(id, field)}
      >
        {props.choices.map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </Frame>
  );
}

/** A choice among two or three that are all to be seen. */
export function RadioField<T extends string>(props: {
  legend: string;
  name: string;
  value: T;
  onChange: (value: T) => void;
  choices: readonly (readonly [value: T, words: ReactNode])[];
  hint?: ReactNode;
  unseenLegend?: boolean;
  term?: TermName;
}) {
  return (
    <fieldset className="field radios" onKeyDown={openMeaning}>
      <legend className={props.unseenLegend ? 'unseen' : undefined}>{props.legend}</legend>
      <div className="radios-row">
        {props.choices.map(([value, words], index) => (
          // The question mark never stands alone on a line.
          <span key={value} className="radio">
            <label className="tick">
              <input
                type="radio"
                name={props.name}
                value={value}
                checked={props.value === value}
                onChange={() => props.onChange(value)}
              />
              <span>{words}</span>
            </label>
            {props.term && index === props.choices.length - 1 && <WhatItMeans term={props.term} />}
          </span>
        ))}
      </div>
      {props.hint && <p className="field-hint">{props.hint}</p>}
    </fieldset>
  );
}

/** A box to tick. */
export function TickField(props: {
  checked: boolean;
  onChange: (checked: boolean) => void;
  children: ReactNode;
  autoFocus?: boolean;
}) {
  return (
    <label className="tick">
      <input
        type="checkbox"
        checked={props.checked}
        onChange={(event) => props.onChange(event.target.checked)}
        // biome-ignore lint/a11y/noAutofocus: the next thing to do, hands are on the keyboard
        autoFocus={props.autoFocus}
      />
      <span>{props.children}</span>
    </label>
  );
}
