import { useEffect, useRef, useState } from 'react';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { LEVELS } from '../../core/sampling/codeLetter.ts';
import { AQLS } from '../../core/sampling/normalPlan.ts';
import { Action } from '../controls/action.tsx';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { showWrong } from '../controls/showWrong.ts';
import { LotCard } from '../lotCard/lotCard.tsx';
import { goTo } from '../route.ts';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { remember, remembered } from '../theme/remembered.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { INTEGRATION_CYCLES, leadsCount } from '../words/measurement.ts';
import { windowText } from '../words/ohms.ts';
import { planSentence, planSource } from '../words/plan.ts';
import { DecisionFields } from './decisionFields.tsx';
import { type Draft, type DraftField, EMPTY_DRAFT, readDraft } from './draft.ts';
import { EXAMPLE_INSPECTOR, EXAMPLE_LOT } from './exampleLot.ts';
import type { FieldOf, SetField } from './fieldOf.ts';
import { TemperatureFields } from './temperatureFields.tsx';
import './receiveScreen.css';

const PAUSE_MILLISECONDS = 700;
/** AQLs for nonconforming pieces end at 10 (MIL-STD-105E, 4.3). */
const PERCENT_AQLS = AQLS.filter((aql) => Number(aql) <= 10);

/** Receiving a lot: what it is, what it claims, how it is sampled and measured. */
export function ReceiveScreen() {
  const { line } = useStation();
  const [draft, setDraft] = useState<Draft>(() => ({ ...EMPTY_DRAFT, inspector: remembered('inspector') ?? '' }));
  const [left, setLeft] = useState<ReadonlySet<DraftField>>(new Set());
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const paused = usePause(draft);
  const form = useRef<HTMLFormElement>(null);
  const nameWasKnown = useRef(draft.inspector !== '').current;

  const read = readDraft(draft);
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
      const { run } = await line.ask('receive-lot', { claim: read.claim });
      remember('inspector', draft.inspector.trim());
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
        lot: { number: draft.lotNumber, supplier: draft.supplier, size: read.size },
        nominal: read.window?.nominal ?? null,
        tolerance: read.tolerance,
        window: read.window,
        plan: read.plan,
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
        <Action
          onPress={() => setDraft((before) => ({ ...EXAMPLE_LOT, inspector: before.inspector || EXAMPLE_INSPECTOR }))}
        >
          Fill in an example lot
        </Action>
      }
    >
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
          <div className="receive-row">
            <TextField label="Lot number" {...text('lotNumber')} required />
            <TextField label="Pieces in the lot" {...text('size')} inputMode="numeric" required />
          </div>
          <TextField label="Supplier" {...text('supplier')} />
        </fieldset>

        <fieldset>
          <legend>Part</legend>
          <div className="receive-row">
            <TextField label="Part number" {...text('partNumber')} required autoFocus={nameWasKnown} />
            <TextField label="Description" {...text('description')} />
          </div>
          <div className="receive-row">
            <TextField label="Nominal value" {...text('nominal')} hint="4k7, 4.7k, R47, 3M3" />
            <TextField
              label="Tolerance or limits"
              term="window"
              {...text('tolerance')}
              required
              hint="1 %, +5 -10 %, 4.6k to 4.8k"
            />
          </div>
          <div className="receive-meaning" aria-live="polite">
            {read.window ? (
              <>
                <p>
                  A good piece has <strong className="figures">{windowText(read.window)}</strong>.
                </p>
                <WindowBar window={read.window} />
              </>
            ) : (
              <p className="quiet">Nominal value and tolerance give the window a good piece must lie in.</p>
            )}
          </div>
        </fieldset>

        <fieldset>
          <legend>Sampling plan</legend>
          <RadioField
            legend="Sample by"
            unseenLegend
            name="planBy"
            value={draft.planBy}
            onChange={(value) => set('planBy', value)}
            choices={[
              ['aql', 'AQL and level'],
              ['agreed', 'Agreed numbers'],
            ]}
          />
          <div className="receive-row">
            {draft.planBy === 'aql' ? (
              <>
                <ChoiceField
                  label="AQL, per cent nonconforming"
                  term="aql"
                  {...text('aql')}
                  onChange={(value) => set('aql', value)}
                  choices={PERCENT_AQLS.map((aql) => [aql, aql] as const)}
                />
                <ChoiceField
                  label="Inspection level"
                  term="inspection-level"
                  {...text('level')}
                  onChange={(value) => set('level', value)}
                  choices={LEVELS.map((level) => [level, level === 'II' ? 'II, usual' : level] as const)}
                />
              </>
            ) : (
              <>
                <TextField label="Pieces to measure" {...text('sampleSize')} inputMode="numeric" required />
                <TextField
                  label="Nonconforming accepted"
                  term="acceptance-number"
                  {...text('accept')}
                  inputMode="numeric"
                  required
                />
              </>
            )}
          </div>
          <div className="receive-meaning" aria-live="polite">
            {read.plan && read.size !== null ? (
              <>
                <p>{planSentence(read.plan, read.size)}</p>
                <p className="quiet small">{planSource(read.plan)}</p>
              </>
            ) : (
              <p className="quiet">The number of pieces in the lot tells how many to measure.</p>
            )}
          </div>
          <DecisionFields draft={draft} field={text} set={set} />
        </fieldset>

        <fieldset>
          <legend>Measurement</legend>
          <RadioField
            legend="Method"
            term="method"
            name="method"
            value={draft.method}
            onChange={(value) => set('method', value)}
            choices={[
              ['2-wire', '2-wire'],
              ['4-wire', '4-wire'],
            ]}
            hint={
              read.window && leadsCount(draft, read.window)
                ? 'Below 100 Ω the resistance of the leads counts in 2-wire. 4-wire leaves it out.'
                : undefined
            }
          />
          <div className="receive-row">
            <ChoiceField
              label="Range"
              term="range"
              {...text('range')}
              onChange={(value) => set('range', value)}
              choices={[
                ['window', 'For the window'],
                ['auto', 'Meter chooses'],
              ]}
            />
            <ChoiceField
              label="Integration, mains cycles"
              term="integration"
              {...text('integrationCycles')}
              onChange={(value) => set('integrationCycles', value)}
              choices={INTEGRATION_CYCLES.map((cycles) => [cycles, cycles] as const)}
            />
          </div>
          <TemperatureFields draft={draft} read={read} field={text} set={set} />
          <details className="receive-more">
            <summary>
              Checks of the bench:{' '}
              <span className="quiet">
                every {draft.everyReadings} readings and {draft.everyMinutes} minutes, {draft.ambientLowest} to{' '}
                {draft.ambientHighest} °C
              </span>
            </summary>
            <div className="receive-row">
              <TextField label="Again after readings" {...text('everyReadings')} inputMode="numeric" required />
              <TextField label="Again after minutes" {...text('everyMinutes')} inputMode="numeric" required />
            </div>
            <div className="receive-row">
              <TextField label="Ambient from, °C" {...text('ambientLowest')} inputMode="decimal" required />
              <TextField label="Ambient to, °C" {...text('ambientHighest')} inputMode="decimal" required />
            </div>
          </details>
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
    </StepPage>
  );
}

/** Whether nothing was typed for a moment. */
function usePause(draft: Draft): boolean {
  const [still, setStill] = useState<Draft | null>(null);
  useEffect(() => {
    const due = setTimeout(() => setStill(draft), PAUSE_MILLISECONDS);
    return () => clearTimeout(due);
  }, [draft]);
  return still === draft;
}
