import { useRef } from 'react';
import { Action } from './action.tsx';
import { Confirm } from './confirm.tsx';
import type { Kept } from './useKept.ts';

/** Says of a form that it is as it was left, and empties it when that is wanted. */
export function KeptNotice({ kept }: { kept: Pick<Kept<unknown>, 'isFromBefore' | 'beginAnew'> }) {
  const emptying = useRef<HTMLDialogElement>(null);
  if (!kept.isFromBefore) return null;
  return (
    <>
      <div className="actions unprinted">
        <p role="status">This form is as you left it.</p>
        <Action onPress={() => emptying.current?.showModal()}>Empty it</Action>
      </div>
      <Confirm ref={emptying} title="Empty this form?" words="Empty" otherwise="Keep it" onConfirm={kept.beginAnew}>
        <p>What was filled in is gone then.</p>
      </Confirm>
    </>
  );
}
