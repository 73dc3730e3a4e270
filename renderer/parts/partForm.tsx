import { useRef, useState } from 'react';
import type { PartsIndex } from '../../core/part/findParts.ts';
import { partNumbered } from '../../core/part/findParts.ts';
import { type Part, type PartInput, part as partSchema } from '../../core/part/part.ts';
import { changesOf } from '../../core/part/partsPreview.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { Confirm } from '../controls/confirm.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { showWrong } from '../controls/showWrong.ts';
import { usePause } from '../controls/usePause.ts';
import { MarkingDialog, openMarking } from '../marking/markingDialog.tsx';
import { DecisionFields } from '../receive/decisionFields.tsx';
import { type Draft, type DraftField, EMPTY_DRAFT, readDraft } from '../receive/draft.ts';
import type { FieldOf, SetField } from '../receive/fieldOf.ts';
import { fillFromMarking } from '../receive/filled.ts';
import { MeasurementFields } from '../receive/measurementFields.tsx';
import { draftOfPart, readPart } from '../receive/partDraft.ts';
import { WindowMeant } from '../receive/partFields.tsx';
import { PlanFields } from '../receive/planFields.tsx';
import { ValueFields } from '../receive/valueFields.tsx';
import { Sheet } from '../sheet/sheet.tsx';
import { useStation } from '../station/station.tsx';
import { ChangesList } from './changesTable.tsx';
import { ReferenceField } from './referenceField.tsx';

/** One part: a new one, or one of the list, which can be removed. */
export function PartForm(props: {
  /** Null: a new one. */
  part: PartInput | null;
  index: PartsIndex | null;
  /** It was kept or removed, in words. */
  onDone: (words: string) => void;
  onLeave: () => void;
}) {
  const { line } = useStation();
  const was = props.part && partSchema.parse(props.part);
  const [begun] = useState<Draft>(() => ({ ...EMPTY_DRAFT, ...(was && draftOfPart(was)) }));
  const [draft, setDraft] = useState(begun);
  const [reference, setReference] = useState(was?.reference ?? '');
  const [left, setLeft] = useState<ReadonlySet<DraftField>>(new Set());
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [fromMarking, setFromMarking] = useState('');
  const form = useRef<HTMLFormElement>(null);
  const removal = useRef<HTMLDialogElement>(null);
  const replacing = useRef<HTMLDialogElement>(null);
  const leaving = useRef<HTMLDialogElement>(null);
  const marking = useRef<HTMLDialogElement>(null);
  const paused = usePause(draft);
  const read = readPart(draft, reference);
  const meant = readDraft(draft);
  const other = takenBy(props.index, read.part, was);

  const set: SetField = (field, value) => setDraft((before) => ({ ...before, [field]: value }));
  const field: FieldOf = (name) => ({
    name,
    value: draft[name],
    onChange: (value: string) => set(name, value as never),
    onBlur: () => setLeft((before) => new Set([...before, name])),
    problem: tried || (draft[name].trim() !== '' && (paused || left.has(name))) ? read.problems[name] : undefined,
  });

  async function ask(over: boolean, part: Part) {
    setProblem(null);
    try {
      await line.ask('save-part', { part, over, ...(was && { was: was.number }) });
      props.onDone(`Part ${part.number} is kept.`);
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  function save() {
    setTried(true);
    if (!read.part) return requestAnimationFrame(() => showWrong(form.current));
    if (other) return replacing.current?.showModal();
    ask(false, read.part);
  }

  function leave() {
    const isChanged = JSON.stringify(draft) !== JSON.stringify(begun) || reference !== (was?.reference ?? '');
    if (isChanged) leaving.current?.showModal();
    else props.onLeave();
  }

  async function remove(number: string) {
    setProblem(null);
    try {
      await line.ask('remove-part', { number });
      props.onDone(`Part ${number} was removed.`);
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <Sheet title={was ? `Part ${was.number}` : 'Add a part'}>
      <form
        ref={form}
        className="receive part-form"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          save();
        }}
      >
        <fieldset>
          <legend>Part</legend>
          <div className="receive-row">
            <TextField label="Part number" {...field('partNumber')} required autoFocus={!was} />
            <TextField label="Description" {...field('description')} />
          </div>
          <ValueFields field={field} />
          <div className="receive-part-ways">
            <Action onPress={() => openMarking(marking.current)}>Read off the part</Action>
            <p className="small quiet" role="status">
              {fromMarking}
            </p>
          </div>
          <WindowMeant read={meant} />
          <TextField label="Supplier, where there is one" {...field('supplier')} />
        </fieldset>
        <fieldset>
          <legend>Sampling plan</legend>
          <PlanFields draft={draft} plan={null} series={null} ofPart field={field} set={set} />
          <DecisionFields draft={draft} field={field} set={set} />
        </fieldset>
        <fieldset>
          <legend>Measurement</legend>
          <MeasurementFields draft={draft} read={meant} field={field} set={set} />
        </fieldset>
        <fieldset>
          <legend>Check of the bench</legend>
          <ReferenceField value={reference} onChange={setReference} />
        </fieldset>
        <div className="receive-end">
          <ProblemNotice problem={problem} />
          <div className="actions">
            <Action primary submits keyName="Enter">
              Keep the part
            </Action>
            {was && <Action onPress={() => removal.current?.showModal()}>Remove it</Action>}
            <Action keyName="Escape" onPress={leave}>
              {was ? 'Leave it as it was' : 'Add none'}
            </Action>
          </div>
        </div>
      </form>
      <MarkingDialog
        ref={marking}
        onUse={({ marked, from }) => {
          const next = fillFromMarking(draft, marked, from);
          setDraft(next.draft);
          setFromMarking(`Filled from ${from}.`);
        }}
      />
      <Confirm ref={leaving} title="Leave without keeping?" words="Leave" otherwise="Go on" onConfirm={props.onLeave}>
        <p>What was entered here is gone then.</p>
      </Confirm>
      {was && (
        <Confirm
          ref={removal}
          title={`Remove part ${was.number}?`}
          words="Remove it"
          otherwise="Keep it"
          onConfirm={() => remove(was.number)}
        >
          <p>Its number no longer fills the receiving form. Runs and certificates of its lots stay as they are.</p>
        </Confirm>
      )}
      {other && read.part && (
        <Confirm
          ref={replacing}
          title={`Replace part ${other.number}?`}
          words="Replace it"
          otherwise="Keep it as it is"
          onConfirm={() => read.part && ask(true, read.part)}
        >
          <p>The parts list has a part of this number. What would change:</p>
          <ChangesList changes={changesOf(other, read.part)} />
        </Confirm>
      )}
    </Sheet>
  );
}

/** The part of the list that has this number and is not the one being changed. */
function takenBy(index: PartsIndex | null, part: Part | null, was: Part | null): Part | null {
  if (!index || !part || part.number === was?.number) return null;
  const found = partNumbered(index, part.number);
  return found && found.number === part.number ? partSchema.parse(found) : null;
}
