import type { ReactNode } from 'react';

/** The form of one check: whatever is pressed to send it, it is this page that does it. */
export function CheckForm(props: { label?: string; onSend: (pressedAt: number) => void; children: ReactNode }) {
  return (
    <form
      className="check-form"
      aria-label={props.label}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        props.onSend(event.timeStamp);
      }}
    >
      {props.children}
    </form>
  );
}
