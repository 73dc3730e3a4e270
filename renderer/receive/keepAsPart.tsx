import { useRef, useState } from 'react';
import { type PartsIndex, partNumbered } from '../../core/part/findParts.ts';
import { type Part, part, withoutUnseen } from '../../core/part/part.ts';
import { changesOf } from '../../core/part/partsPreview.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { Confirm } from '../controls/confirm.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { ChangesList } from '../parts/changesTable.tsx';
import { useStation } from '../station/station.tsx';
import type { Draft } from './draft.ts';
import { readPart } from './partDraft.ts';

/**
 * Keeps what the form says of the part in the parts list. Nothing is shown while the form is not a part yet, or says what the list
 * says already; a part that is there is only replaced after it was asked.
 */
export function KeepAsPart({ draft, index }: { draft: Draft; index: PartsIndex | null }) {
  const { line } = useStation();
  const asking = useRef<HTMLDialogElement>(null);
  const [kept, setKept] = useState('');
  const [problem, setProblem] = useState<Problem | null>(null);
  const known = index && numbered(index, draft.partNumber);
  const read = readPart(draft, known?.reference ?? '').part;
  // Who delivers this lot says nothing of who delivers the part, where several do.
  const now = read && known && known.supplier === '' ? { ...read, supplier: '' } : read;
  const changes = now && known ? changesOf(known, now) : [];
  const isOffered = index !== null && now !== null && (known === null || changes.length > 0);

  async function keep(over: boolean) {
    if (!now) return;
    setProblem(null);
    try {
      await line.ask('save-part', { part: now, over });
      setKept(now.number);
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <>
      {isOffered && (
        <Action onPress={() => (known ? asking.current?.showModal() : keep(false))}>
          {known ? 'Change the part too' : 'Keep it as a part'}
        </Action>
      )}
      <span role="status" className="small">
        {kept !== '' && kept === now?.number && !isOffered && `${kept} is in the parts list.`}
      </span>
      <ProblemNotice problem={problem} />
      <Confirm
        ref={asking}
        title={`Change part ${draft.partNumber.trim()}?`}
        words="Change the part"
        otherwise="Keep it as it is"
        onConfirm={() => keep(true)}
      >
        <p>The form differs from the part in the parts list. With this the next lot begins so:</p>
        <ChangesList changes={changes} />
      </Confirm>
    </>
  );
}

function numbered(index: PartsIndex, number: string): Part | null {
  const found = partNumbered(index, number);
  return found && found.number === withoutUnseen(number).trim() ? part.parse(found) : null;
}
