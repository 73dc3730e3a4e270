import { type ReactNode, useRef, useState } from 'react';
import { Action } from './action.tsx';
import './dialog.css';

/**
 * An action with its key that asks something in a dialog. What is in the dialog is made when it opens and gone when it closes, so
 * that it begins empty each time.
 * @param labelledBy id of the heading inside
 * @param children what is in it; is given how to close it
 */
export function KeyDialog(props: {
  keyName: string;
  words: ReactNode;
  disabled?: boolean;
  labelledBy: string;
  className?: string;
  onClosed?: (() => void) | undefined;
  children: (close: () => void) => ReactNode;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [open, setOpen] = useState(false);
  return (
    <>
      <Action
        keyName={props.keyName}
        disabled={props.disabled ?? false}
        onPress={() => {
          setOpen(true);
          dialog.current?.showModal();
        }}
      >
        {props.words}
      </Action>
      <dialog
        ref={dialog}
        className={`dialog ${props.className ?? ''}`}
        aria-labelledby={props.labelledBy}
        onClose={() => {
          setOpen(false);
          props.onClosed?.();
        }}
      >
        {open && props.children(() => dialog.current?.close())}
      </dialog>
    </>
  );
}
