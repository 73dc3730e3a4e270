import { useRef, useState } from 'react';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { planSentence, planSource } from '../../core/sampling/planWords.ts';
import { HowSure } from '../charts/howSure.tsx';
import { Action } from '../controls/action.tsx';
import { Confirm } from '../controls/confirm.tsx';
import { TextField } from '../controls/field.tsx';
import { KeptNotice } from '../controls/keptNotice.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { showWrong } from '../controls/showWrong.ts';
import { useKept } from '../controls/useKept.ts';
import { usePause } from '../controls/usePause.ts';
import { LotCard } from '../lotCard/lotCard.tsx';
import { MarkingDialog, openMarking } from '../marking/markingDialog.tsx';
import { goTo } from '../route.ts';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { remember, remembered } from '../theme/remembered.ts';
import { DecisionFields } from './decisionFields.tsx';
import { asReceived, type Draft, type DraftField, EMPTY_DRAFT, readDraft } from './draft.ts';
import { EXAMPLE_INSPECTOR, EXAMPLE_LOT } from './exampleLot.ts';
import type { FieldOf, SetField } from './fieldOf.ts';
import { MeasurementFields } from './measurementFields.tsx';
import { PartFields } from './partFields.tsx';
import { PlanFields } from './planFields.tsx';
import { useFilling } from './useFilling.ts';
import { useSeries } from './useSeries.ts';
import './receiveScreen.css';

/** Receiving a lot: what it is, what it claims, how it is sampled and measured. */
export function ReceiveScreen() {
  const { line } = useStation();
  const kept = useKept<Draft>('receive', () => ({ ...EMPTY_DRAFT, inspector: remembered('inspector') ?? '' }));
  const { value: draft, set: setDraft } = kept;
  const [left, setLeft] = useState<ReadonlySet<DraftField>>(new Set());
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const paused = usePause(draft);
  const form = useRef<HTMLFormElement>(null);
  const marking = useRef<HTMLDialogElement>(null);
  const exampleInstead = useRef<HTMLDialogElement>(null);
  const fill = useFilling(draft, setDraft, form);
  const nameWasKnown = useRef(draft.inspector !== '').current;

  const { series, shape } = useSeries(draft);
  const read = readDraft(draft, series ?? undefined);
  const set: SetField = (field, value) => setDraft((before) => ({ ...before, [field]: value }));

  /** A problem shows once its field was left or typing paused; that a field is empty, once it was tried without. */
  const shown = (field: DraftField): string | undefined => {
    if (tried) return read.problems[field];
    if (draft[field].trim() === '') return undefined;
    return paused || left.has(field) ? read.problems[field] : undefined;
  };
  const text: FieldOf = (field) => ({
    name: field,
    value: draft[field],
    onChange: (value: string) => set(field, value as never),
    onBlur: () => setLeft((before) => new Set([...before, field])),
    problem: shown(field),
  });

  function fillInExample() {
    fill.forget();
    setDraft((before) => ({ ...EXAMPLE_LOT, inspector: before.inspector || EXAMPLE_INSPECTOR }));
  }

  async function receive() {
    setTried(true);
    setRefused(null);
    if (busy) return;
    if (Object.keys(read.problems).length > 0) {
      // After the problems are on the screen, so that the first of them is read out with its field.
      requestAnimationFrame(() => showWrong(form.current));
      return;
    }
    setBusy(true);
    try {
      const { run } = await line.ask('receive-lot', { claim: asReceived(read) });
      remember('inspector', draft.inspector.trim());
      kept.done();
      goTo({ screen: 'run', run });
    } catch (thrown) {
      setRefused(asProblem(thrown));
      setBusy(false);
    }
  }

  const card = (
    <LotCard
      number={null}
      run={null}
      step="receive"
      facts={{
        inspector: draft.inspector,
        part: { number: draft.partNumber, description: draft.description },
        lot: { number: draft.lotNumber, supplier: draft.supplier, reel: draft.reel, size: read.size },
        nominal: read.window?.nominal ?? null,
        tolerance: read.tolerance,
        window: read.window,
        plan: read.plan,
        positions: null,
        measurement: {
          method: draft.method,
          range: draft.range,
          integrationCycles: draft.integrationCycles,
        },
        decision: read.decision,
        temperature: read.temperature,
      }}
    />
  );

  return (
    <StepPage
      step="receive"
      title="Receive a lot"
      card={card}
      aside={
        <Action onPress={() => (isOtherThanExample(draft) ? exampleInstead.current?.showModal() : fillInExample())}>
          Fill in an example lot
        </Action>
      }
    >
      <Confirm
        ref={exampleInstead}
        title="Fill in the example instead?"
        words="Fill in the example"
        otherwise="Keep what is there"
        onConfirm={fillInExample}
      >
        <p>What was filled in is gone then, but for the inspector.</p>
      </Confirm>
      <KeptNotice kept={kept} />
      <form
        ref={form}
        className="receive"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          receive();
        }}
      >
        <fieldset>
          <legend>Lot</legend>
          <TextField label="Inspector" {...text('inspector')} required autoFocus={!nameWasKnown} />
          <div className="receive-row receive-row-many">
            <TextField label="Lot number" {...text('lotNumber')} required />
            <TextField label="Reel number" {...text('reel')} />
            <TextField label="Pieces in the lot" {...text('size')} inputMode="numeric" required />
          </div>
          <TextField label="Supplier" {...text('supplier')} />
          <p className={fill.isLost ? 'field-problem' : 'unseen'} role="status">
            {fill.said}
          </p>
        </fieldset>

        <fieldset>
          <legend>Part</legend>
          <PartFields
            draft={draft}
            read={read}
            field={text}
            index={fill.index}
            filled={fill.filled}
            offered={fill.offered}
            autoFocus={nameWasKnown}
            onChoose={fill.choose}
            onNumberLeft={fill.numberLeft}
            onTakeBack={fill.takeBack}
            onMarking={() => openMarking(marking.current)}
          />
        </fieldset>

        <fieldset>
          <legend>Sampling plan</legend>
          <PlanFields draft={draft} plan={read.plan} series={series} shape={shape} field={text} set={set} />
          <div className="receive-meaning" aria-live="polite">
            {read.plan && read.size !== null ? (
              <>
                <p>{planSentence(read.plan, read.size)}</p>
                <p className="quiet small">{planSource(read.plan)}</p>
              </>
            ) : (
              <p className="quiet">
                {read.size === null
                  ? 'The number of pieces in the lot tells how many to measure.'
                  : 'These figures make no plan yet; what is wrong stands beside them.'}
              </p>
            )}
          </div>
          {read.plan && read.size !== null && <HowSure plan={read.plan} lotSize={read.size} />}
          <DecisionFields draft={draft} field={text} set={set} />
        </fieldset>

        <fieldset>
          <legend>Measurement</legend>
          <MeasurementFields draft={draft} read={read} field={text} set={set} />
        </fieldset>

        <div className="receive-end">
          <ProblemNotice problem={refused} />
          <div className="actions">
            <Action primary submits keyName="Enter" disabled={busy}>
              Receive the lot
            </Action>
          </div>
        </div>
      </form>
      <MarkingDialog ref={marking} onUse={fill.useMarking} />
    </StepPage>
  );
}

/** Whether something was filled in that the example would take the place of. */
function isOtherThanExample(draft: Draft): boolean {
  return Object.entries(EXAMPLE_LOT).some(([key, example]) => {
    const field = key as keyof typeof EXAMPLE_LOT;
    return draft[field] !== example && draft[field] !== EMPTY_DRAFT[field];
  });
}
