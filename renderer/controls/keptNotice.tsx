import { Action } from './action.tsx';
import type { Kept } from './useKept.ts';

/** Says of a form that it is as it was left, and empties it. */
export function KeptNotice({ kept }: { kept: Pick<Kept<unknown>, 'isFromBefore' | 'beginAnew'> }) {
  if (!kept.isFromBefore) return null;
  return (
    <div className="actions unprinted">
      <p role="status">This form is as you left it.</p>
      <Action onPress={kept.beginAnew}>Empty it</Action>
    </div>
  );
}
