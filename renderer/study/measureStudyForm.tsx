import { useRef, useState } from 'react';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { orderOf } from '../../core/study/order.ts';
import type { StudyChoice } from '../../core/study/studyPlan.ts';
import { Action } from '../controls/action.tsx';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { showWrong } from '../controls/showWrong.ts';
import type { Kept } from '../controls/useKept.ts';
import { goTo } from '../route.ts';
import { SheetForm } from '../sheet/sheetForm.tsx';
import { useStation } from '../station/station.tsx';
import { remember } from '../theme/remembered.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { counted } from '../words/count.ts';
import { INTEGRATION_CYCLES } from '../words/measurement.ts';
import { windowText } from '../words/ohms.ts';
import { drawSeed } from './drawSeed.ts';
import { readStudyDraft, type StudyDraft, type StudyField } from './studyDraft.ts';

/** Turns of the order that are shown beforehand. */
const TURNS_SHOWN = 5;

/** Planning a study that is to be measured: what, by whom, how often; then it goes on as any run does. */
export function MeasureStudyForm({ kept }: { kept: Kept<StudyDraft> }) {
  const { value: draft, set: onChange } = kept;
  const { line } = useStation();
  const [left, setLeft] = useState<ReadonlySet<StudyField>>(new Set());
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const nameWasKnown = useRef(draft.inspector !== '').current;
  const read = readStudyDraft(draft);
  const isSingle = draft.design === 'single';

  const set = <F extends StudyField>(field: F, value: StudyDraft[F]) =>
    onChange((before) => ({ ...before, [field]: value }));
  const text = (field: StudyField) => ({
    name: field,
    value: draft[field],
    onChange: (value: string) => set(field, value as never),
    onBlur: () => setLeft((before) => new Set([...before, field])),
    // A problem shows once its field was left; that a field is empty, once it was tried without.
    problem: tried || (left.has(field) && draft[field].trim() !== '') ? read.problems[field] : undefined,
  });

  async function receive() {
    setTried(true);
    setRefused(null);
    if (busy) return;
    if (Object.keys(read.problems).length > 0) {
      requestAnimationFrame(() => showWrong(form.current));
      return;
    }
    setBusy(true);
    try {
      const { run } = await line.ask('receive-lot', { claim: read.claim });
      remember('inspector', draft.inspector.trim());
      kept.done();
      goTo({ screen: 'run', run });
    } catch (thrown) {
      setRefused(asProblem(thrown));
      setBusy(false);
    }
  }

  return (
    <SheetForm ref={form} kept={kept} onSend={receive}>
      <div className="sheet-column">
        <fieldset>
          <legend>Study</legend>
          <div className="sheet-row">
            <TextField label="Made by" {...text('inspector')} required autoFocus={!nameWasKnown} />
            <TextField label="Name of the study" {...text('name')} required hint="in place of a lot number" />
          </div>
          <TextField label="Part number" {...text('partNumber')} required autoFocus={nameWasKnown} />
          <div className="sheet-row">
            <TextField label="Nominal value" {...text('nominal')} hint="4k7, 4.7k, R47, 3M3" />
            <TextField label="Tolerance or limits" {...text('tolerance')} required hint="1 %, +5 -10 %, 4.6k to 4.8k" />
          </div>
          <div className="sheet-meaning" aria-live="polite">
            {read.window ? (
              <>
                <p>
                  Shares of tolerance are of <strong className="figures">{windowText(read.window)}</strong>.
                </p>
                <WindowBar window={read.window} />
              </>
            ) : (
              <p className="quiet">Nominal value and tolerance give the window the spread is compared with.</p>
            )}
          </div>
        </fieldset>

        <fieldset>
          <legend>Measurement</legend>
          <RadioField
            legend="Method"
            name="method"
            value={draft.method}
            onChange={(value) => set('method', value)}
            choices={[
              ['2-wire', '2-wire'],
              ['4-wire', '4-wire'],
            ]}
          />
          <ChoiceField
            label="Integration, mains cycles"
            {...text('integrationCycles')}
            onChange={(value) => set('integrationCycles', value)}
            choices={INTEGRATION_CYCLES.map((cycles) => [cycles, cycles] as const)}
          />
        </fieldset>
      </div>

      <fieldset>
        <legend>Design</legend>
        <RadioField
          legend="Design"
          unseenLegend
          name="design"
          value={draft.design}
          onChange={(value) => set('design', value)}
          choices={[
            ['crossed', 'Crossed: every operator measures every piece'],
            ['single', 'One operator'],
          ]}
        />
        <TextField
          label={isSingle ? 'Operator' : 'Operators'}
          {...text('operators')}
          required
          hint={isSingle ? 'by name' : 'by name, with commas: Ana, Ben, Caro. Three are usual.'}
        />
        <div className="sheet-row sheet-row-many">
          <TextField label="Pieces" {...text('pieces')} inputMode="numeric" required hint="numbered from 1" />
          <TextField label="Repeats" {...text('repeats')} inputMode="numeric" required hint="of each piece" />
          {isSingle && (
            <TextField label="Sessions" {...text('sessions')} inputMode="numeric" required hint="days, say" />
          )}
          {isSingle && <TextField label="Runs" {...text('runs')} inputMode="numeric" required hint="weeks apart" />}
        </div>
        {isSingle && (
          <div className="sheet-row">
            <TextField label="Reference value, for bias" {...text('reference')} hint="of the one piece, if known" />
            <TextField label="Its uncertainty, k = 2" {...text('referenceUncertainty')} hint="as certified: 0.05 ohm" />
          </div>
        )}
        <div className="sheet-row sheet-row-button">
          <TextField
            label="Seed of the random order"
            {...text('seed')}
            inputMode="numeric"
            required
            hint="drawn by this computer, kept with the study"
          />
          <Action onPress={() => set('seed', drawSeed())}>Draw anew</Action>
        </div>
        <div aria-live="polite">{read.choice && <Turns choice={read.choice} />}</div>
      </fieldset>

      <div className="sheet-end">
        <ProblemNotice problem={refused} />
        <div className="actions">
          <Action primary submits keyName="Enter" disabled={busy}>
            Begin the study
          </Action>
        </div>
      </div>
    </SheetForm>
  );
}

/** How many readings it comes to, and how the order begins. */
function Turns({ choice }: { choice: StudyChoice }) {
  const order = orderOf(choice);
  const first = order.slice(0, TURNS_SHOWN).map(({ piece }) => piece);
  const who = choice.operators.length > 1 ? `${order[0]?.operator} begins with` : 'It begins with';
  return (
    <>
      <p>
        <strong>{counted(order.length, 'reading', 'readings')}</strong>, turn by turn.
      </p>
      <p className="quiet">
        {who} piece {first.join(', then ')}
        {order.length > TURNS_SHOWN && ' …'}
      </p>
    </>
  );
}
