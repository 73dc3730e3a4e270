import { Action } from '../controls/action.tsx';
import type { Draft } from './draft.ts';
import type { Filled } from './filled.ts';
import { changedSince, type PartDraft } from './partDraft.ts';

/** From where the form was filled, what was changed since, and the way back. */
export function FilledFrom(props: { filled: Filled; draft: Draft; onTakeBack: () => void }) {
  const { filled, draft } = props;
  const changed = changedSince(draft, { ...draft, ...filled.fields } as PartDraft);
  return (
    <div className="filled-from">
      <p className="small">
        {filled.from.kind === 'part' ? (
          <>
            Filled from part <strong>{filled.from.part.number}</strong> of the parts list.
          </>
        ) : (
          <>
            Filled from {filled.from.words}: {filled.from.what}.
          </>
        )}
        {changed.length > 0 && <> Changed since: {changed.join(', ')}.</>}
      </p>
      <Action onPress={props.onTakeBack}>Take back</Action>
    </div>
  );
}
