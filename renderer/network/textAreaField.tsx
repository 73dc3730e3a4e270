import { useId } from 'react';

/** Several lines of text as a machine reads them, with a label, and beside them a hint or what is wrong. */
export function TextAreaField(props: {
  label: string;
  name: string;
  value: string;
  onChange: (value: string) => void;
  onBlur: () => void;
  problem: string | undefined;
  hint: string;
  autoFocus?: boolean;
}) {
  const id = useId();
  const { problem } = props;
  const lines = props.value.split('\n').length;
  return (
    <div className="field">
      <div className="field-label">
        <label htmlFor={id}>{props.label}</label>
      </div>
      <textarea
        id={id}
        name={props.name}
        className="machine network-text"
        rows={Math.min(Math.max(lines + 1, 7), 14)}
        wrap="off"
        value={props.value}
        onChange={(event) => props.onChange(event.target.value)}
        onBlur={props.onBlur}
        // biome-ignore lint/a11y/noAutofocus: the page is for describing a network, hands are on the keyboard
        autoFocus={props.autoFocus}
        autoComplete="off"
        autoCapitalize="off"
        spellCheck={false}
        aria-invalid={problem ? true : undefined}
        aria-describedby={`${id}-words`}
      />
      <p className={problem ? 'field-problem' : 'field-hint'} id={`${id}-words`}>
        {problem ?? props.hint}
      </p>
    </div>
  );
}
