import { type ReactNode, useEffect, useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import type { ReferenceFacts } from '../../core/readiness/check.ts';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhyField } from '../controls/whoAndWhy.tsx';
import { useStation } from '../station/station.tsx';
import { lastCheck } from '../words/bench.ts';
import { limitText } from '../words/ohms.ts';
import { today } from '../words/time.ts';
import { CheckForm } from './checkForm.tsx';
import { EMPTY_REFERENCE, likelyReference, readReference } from './referenceDraft.ts';

const ENTER = 'enter';
const WITHOUT = 'without';
const BENCH = 'bench';

/** What is asked of the station for the check of the reference. */
export type ReferenceAsked = { reference?: ReferenceFacts; waived?: string };

/** Which reference resistor is on the probes: a known one, one that is entered now and kept, or none, with the reason. */
export function ReferenceCheck(props: {
  run: Run;
  onDo: (asked: ReferenceAsked, pressedAt: number) => void;
  children: (without: boolean) => ReactNode;
}) {
  const { run, onDo } = props;
  const { line, up } = useStation();
  const simulated = run.meter?.identity.simulated === true;
  const [known, setKnown] = useState<readonly ReferenceFacts[] | null>(simulated ? [] : null);
  const [choice, setChoice] = useState<string | null>(simulated ? BENCH : null);
  const [draft, setDraft] = useState(EMPTY_REFERENCE);
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  /** The reference resistor that the part asks for. */
  const [wanted, setWanted] = useState('');
  const lastUsed = lastCheck(run, 'reference')?.reference?.name ?? null;
  const { window } = run;
  const partNumber = run.part.number;

  useEffect(() => {
    if (!up || simulated) return;
    // Whether the part asks for one helps to choose; that it cannot be told is no reason to hold up the check.
    const part = line.ask('part', { number: partNumber }).catch(() => ({ part: null }));
    Promise.all([line.ask('references', {}), part]).then(
      ([found, { part: itsPart }]) => {
        const asked = itsPart?.reference ?? '';
        setKnown(found);
        setWanted(asked);
        setChoice((before) => before ?? likelyReference(found, window, lastUsed, today(), asked)?.name ?? ENTER);
      },
      (thrown) => {
        setKnown([]);
        setChoice((before) => before ?? ENTER);
        setProblem(asProblem(thrown));
      },
    );
  }, [line, up, simulated, window, lastUsed, partNumber]);

  const entered = readReference(draft);
  const field = (name: keyof typeof draft) => ({
    name,
    value: draft[name],
    onChange: (text: string) => setDraft((before) => ({ ...before, [name]: text })),
    problem: tried ? entered.problems[name] : undefined,
    required: true,
  });

  async function submit(pressedAt: number) {
    setTried(true);
    setProblem(null);
    if (choice === WITHOUT) {
      if (reason.trim() !== '') onDo({ waived: reason }, pressedAt);
      return;
    }
    if (choice === BENCH) return onDo({}, pressedAt);
    if (choice !== ENTER) {
      const reference = known?.find(({ name }) => name === choice);
      if (reference) onDo({ reference }, pressedAt);
      return;
    }
    const { reference } = entered;
    if (!reference) return;
    try {
      await line.ask('save-reference', { reference });
      setKnown((before) => [...(before ?? []).filter(({ name }) => name !== reference.name), reference]);
      setChoice(reference.name);
      setDraft(EMPTY_REFERENCE);
      setTried(false);
      onDo({ reference }, pressedAt);
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  const choices: [value: string, words: ReactNode][] = [
    ...(simulated
      ? [[BENCH, <strong key="bench">The bench’s own reference resistor</strong>] as [string, ReactNode]]
      : []),
    ...wantedFirst(known ?? [], wanted).map((one): [string, ReactNode] => [
      one.name,
      <ReferenceWords key={one.name} reference={one} isWanted={one.name === wanted} />,
    ]),
    ...(simulated ? [] : [[ENTER, <strong key="enter">Another reference resistor</strong>] as [string, ReactNode]]),
    [WITHOUT, <strong key="without">None: waive this check, with the reason</strong>],
  ];

  return (
    <CheckForm onSend={submit}>
      <fieldset>
        <legend className="quiet small">
          Which one is on the probes? A value near {limitText(aboutOf(window), window)} shows most.
        </legend>
        {choice === null && <p className="quiet">Looking for the reference resistors that are known …</p>}
        {choice !== null &&
          choices.map(([value, words]) => (
            <label key={value} className="tick">
              <input
                type="radio"
                name="reference"
                value={value}
                checked={choice === value}
                onChange={() => setChoice(value)}
              />
              <span>{words}</span>
            </label>
          ))}
      </fieldset>
      {choice === ENTER && (
        <div className="check-fields">
          <TextField label="Name or serial number" {...field('name')} autoFocus={known?.length === 0} />
          <TextField label="Value" {...field('ohms')} hint="4k7, 10k, 100.002" />
          <TextField label="Uncertainty (k = 2)" {...field('uncertainty')} hint="in ohms: 0.05, or 0.01 %" />
          <TextField label="Due" {...field('due')} hint="like 2027-01-31" />
        </div>
      )}
      {choice === WITHOUT && (
        <WhyField label="Why this check is waived" value={reason} onChange={setReason} tried={tried} />
      )}
      <ProblemNotice problem={problem} />
      {props.children(choice === WITHOUT)}
    </CheckForm>
  );
}

function wantedFirst(known: readonly ReferenceFacts[], wanted: string): readonly ReferenceFacts[] {
  return known.toSorted((a, b) => Number(b.name === wanted) - Number(a.name === wanted));
}

function ReferenceWords({ reference, isWanted }: { reference: ReferenceFacts; isWanted: boolean }) {
  const { name, ohms, uncertaintyOhms, due } = reference;
  return (
    <>
      <strong>{name}</strong>{' '}
      <span className="quiet">
        {formatOhms(ohms)} ± {formatOhms(uncertaintyOhms)}, due {due}
        {due < today() && <strong>, overdue</strong>}
        {isWanted && <>, the one for this part</>}
      </span>
    </>
  );
}

function aboutOf({ nominal, upper, lower }: Run['window']): string {
  return nominal ?? upper ?? lower ?? '0';
}
