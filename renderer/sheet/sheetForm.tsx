import type { ReactNode, RefObject } from 'react';
import { KeptNotice } from '../controls/keptNotice.tsx';
import type { Kept } from '../controls/useKept.ts';

/** The form of a sheet: kept when it is left, checked by its own fields, sent by Enter. */
export function SheetForm(props: {
  ref: RefObject<HTMLFormElement | null>;
  kept: Pick<Kept<unknown>, 'isFromBefore' | 'beginAnew'>;
  onSend: () => void;
  children: ReactNode;
}) {
  return (
    <>
      <KeptNotice kept={props.kept} />
      <form
        ref={props.ref}
        className="sheet-form"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          props.onSend();
        }}
      >
        {props.children}
      </form>
    </>
  );
}
