import type { ReactNode, Ref } from 'react';
import { useKey } from '../keys/useKey.ts';
import './action.css';

const KEY_NAMES: Record<string, string> = {
  ' ': 'Space',
  Enter: 'Enter',
  Escape: 'Esc',
  ArrowLeft: '←',
  ArrowRight: '→',
};

/**
 * A button that does a part of the job, with its key shown where there is one. The key works anywhere on the screen
 * where it is free, as long as the button can be pressed. One that can't be pressed keeps the focus it has, so that the
 * hands are still in their place when it can.
 */
export function Action(props: {
  children: ReactNode;
  /** Given the moment of the press, in milliseconds on the page's clock. */
  onPress?: (pressedAt: number) => void;
  keyName?: string;
  /** The one thing this step is for. */
  primary?: boolean;
  submits?: boolean;
  disabled?: boolean;
  /** Space does not press it: hands may still be in the rhythm of the step before, whose key that is. */
  notBySpace?: boolean;
  /** Further words for those who hear the screen, where the button's own are short. */
  label?: string;
  ref?: Ref<HTMLButtonElement>;
}) {
  const { keyName, onPress, disabled } = props;
  useKey(keyName ?? 'Unidentified', keyName && onPress && !disabled ? onPress : null);
  const shown = keyName && (KEY_NAMES[keyName] ?? keyName.toUpperCase());
  return (
    <button
      ref={props.ref}
      type={props.submits ? 'submit' : 'button'}
      className={props.primary ? 'action action-primary' : 'action'}
      onClick={(event) => (disabled ? event.preventDefault() : onPress?.(event.timeStamp))}
      // A key that is held down presses once, also on the button that has the focus.
      onKeyDown={(event) => {
        if (event.repeat && (event.key === 'Enter' || event.key === ' ')) event.preventDefault();
        if (props.notBySpace && event.key === ' ') event.preventDefault();
      }}
      onKeyUp={(event) => {
        if (props.notBySpace && event.key === ' ') event.preventDefault();
      }}
      aria-disabled={disabled || undefined}
      aria-label={props.label}
      aria-keyshortcuts={shown}
      data-key={onPress ? keyName : undefined}
    >
      <span>{props.children}</span>
      {shown && (
        <span className="key" aria-hidden="true">
          {shown}
        </span>
      )}
    </button>
  );
}
