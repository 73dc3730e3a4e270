import { type ReactNode, type RefObject, useId } from 'react';
import { Action } from './action.tsx';
import './dialog.css';

/**
 * Asks before something is done that cannot be taken back. Opened by whoever has the ref. The way out comes first and so has the
 * focus: a key still being pressed does no harm.
 */
export function Confirm(props: {
  ref: RefObject<HTMLDialogElement | null>;
  title: string;
  children: ReactNode;
  /** What is done, as a verb: `Remove it`. */
  words: string;
  /** What is not done then: `Keep it`. */
  otherwise: string;
  onConfirm: () => void;
}) {
  const { ref } = props;
  const id = useId();
  return (
    <dialog ref={ref} className="dialog" aria-labelledby={id}>
      <div className="dialog-words">
        <h2 id={id}>{props.title}</h2>
        {props.children}
        <div className="actions">
          <button type="button" className="action" onClick={() => ref.current?.close()}>
            <span>{props.otherwise}</span>
            <span className="key" aria-hidden="true">
              Esc
            </span>
          </button>
          <Action
            onPress={() => {
              ref.current?.close();
              props.onConfirm();
            }}
          >
            {props.words}
          </Action>
        </div>
      </div>
    </dialog>
  );
}
