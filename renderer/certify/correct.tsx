import { type FormEvent, type ReactNode, useState } from 'react';
import { isAcceptedAgainstPlan } from '../../core/inspection/decide.ts';
import { CORRECTABLE, type Correctable, type Disposition } from '../../core/inspection/event.ts';
import type { Decided, Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { Action } from '../controls/action.tsx';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField, WhyField } from '../controls/whoAndWhy.tsx';
import { useStation } from '../station/station.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';

type Corrected = Exclude<Disposition, 'studied'>;

/** Corrects what was decided, unless it is a study, and what was typed wrong, folded away: what it was stays in the record. */
export function Correct(props: { number: number; run: Run; decided: Decided }) {
  const { number, run, decided } = props;
  const isFinal = decided.disposition === 'accepted' || decided.disposition === 'not-accepted';
  return (
    <details className="certify-file correct">
      <summary>
        <h2>Correct</h2>{' '}
        <span className="quiet">
          {isFinal && 'the decision, '}
          {anyOf(factsOf(run).map((fact) => wordsOf(fact, run)))}
        </span>
      </summary>
      <p className="quiet">
        What it was stays in the record and goes onto the certificate, with name and reason. A certificate that was
        written before is to be written anew.
      </p>
      {isFinal && <CorrectDecision number={number} run={run} decided={decided} />}
      <CorrectFact number={number} run={run} />
    </details>
  );
}

function CorrectDecision({ number, run, decided }: { number: number; run: Run; decided: Decided }) {
  const { line } = useStation();
  const choices = choicesOf(decided);
  const [chosen, setChosen] = useState<Corrected>('not-accepted');
  // What was chosen before may be what is so by now.
  const disposition = choices.includes(chosen) ? chosen : 'on-hold';
  const [approvedBy, setApprovedBy] = useState('');
  const needsSecond = isAcceptedAgainstPlan(run, disposition);
  return (
    <CorrectForm
      title="The decision"
      is={<strong>{dispositionText(decided)}</strong>}
      button="Correct the decision"
      run={run}
      isWhole={!needsSecond || approvedBy.trim() !== ''}
      ask={(who) =>
        line
          .ask('correct-decision', { run: number, disposition, ...who, ...(needsSecond && { approvedBy }) })
          .then(() => setApprovedBy(''))
      }
    >
      {(tried) => (
        <>
          <RadioField<Corrected>
            legend="Disposition of the lot"
            name="corrected-disposition"
            value={disposition}
            onChange={setChosen}
            choices={choices.map((choice) => [choice, choiceText(run, choice)] as const)}
          />
          {needsSecond && (
            <WhoField
              label="Second person who answers for it"
              value={approvedBy}
              onChange={setApprovedBy}
              tried={tried}
            />
          )}
        </>
      )}
    </CorrectForm>
  );
}

/** What else it can be; accepted with a second person it can be with another one. */
function choicesOf({ disposition, approvedBy }: Decided): Corrected[] {
  const all: Corrected[] = ['accepted', 'not-accepted', 'on-hold'];
  const others = all.filter((each) => each !== disposition);
  return approvedBy === null ? others : [...others, 'accepted'];
}

function choiceText(run: Run, choice: Corrected): string {
  return isAcceptedAgainstPlan(run, choice)
    ? `${DISPOSITION_WORDS[choice]} against the plan`
    : DISPOSITION_WORDS[choice];
}

function dispositionText({ disposition, approvedBy }: Decided): string {
  return approvedBy === null ? DISPOSITION_WORDS[disposition] : `${DISPOSITION_WORDS[disposition]}, with ${approvedBy}`;
}

const FACTS: Record<Correctable, (run: Run) => string> = {
  'lot number': ({ lot }) => lot.number,
  supplier: ({ lot }) => lot.supplier,
  reel: ({ lot }) => lot.reel,
  description: ({ part }) => part.description,
};

/** A study has a name in place of a lot number, and neither supplier nor reel. */
function factsOf({ plan }: Run): readonly Correctable[] {
  return plan.choice.kind === 'study' ? ['lot number', 'description'] : CORRECTABLE;
}

function wordsOf(fact: Correctable, { plan }: Run): string {
  return fact === 'lot number' && plan.choice.kind === 'study' ? 'name of the study' : fact;
}

function anyOf(words: readonly string[]): string {
  return `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

function CorrectFact({ number, run }: { number: number; run: Run }) {
  const { line } = useStation();
  const [fact, setFact] = useState<Correctable>('lot number');
  const [is, setIs] = useState('');
  const now = FACTS[fact](run);
  const words = wordsOf(fact, run);
  return (
    <CorrectForm
      title="What was typed"
      is={now === '' ? 'empty' : <strong>{now}</strong>}
      button={`Correct the ${words}`}
      run={run}
      isWhole={fact !== 'lot number' || is.trim() !== ''}
      ask={(who) => line.ask('correct-fact', { run: number, fact, is, ...who }).then(() => setIs(''))}
    >
      {(tried) => (
        <>
          <ChoiceField<Correctable>
            label="What is wrong"
            value={fact}
            onChange={setFact}
            choices={factsOf(run).map((each) => [each, capital(wordsOf(each, run))] as const)}
          />
          <TextField
            label={`What the ${words} should be`}
            value={is}
            onChange={setIs}
            problem={tried && fact === 'lot number' && is.trim() === '' ? 'Must not be empty.' : undefined}
          />
        </>
      )}
    </CorrectForm>
  );
}

/** One correction: what it is now, what it should be, who says so and why. */
function CorrectForm(props: {
  title: string;
  /** What it is now. */
  is: ReactNode;
  button: string;
  run: Run;
  /** Whether all is given that must be, but for name and reason. */
  isWhole: boolean;
  ask: (who: { by: string; reason: string }) => Promise<unknown>;
  children: (tried: boolean) => ReactNode;
}) {
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(props.run.inspector);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [isDone, setDone] = useState(false);

  async function correct(event: FormEvent) {
    event.preventDefault();
    setTried(true);
    setDone(false);
    setProblem(null);
    if (!props.isWhole || reason.trim() === '' || by.trim() === '') return;
    try {
      await props.ask({ by, reason });
      setReason('');
      setTried(false);
      setDone(true);
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form className="correct-form" noValidate onSubmit={correct} aria-label={props.title}>
      <h3>{props.title}</h3>
      <p>Now: {props.is}</p>
      <div className="lift-hold-fields">
        {props.children(tried)}
        <WhyField label="Reason of the correction" value={reason} onChange={setReason} tried={tried} />
        <WhoField label="Corrected by" value={by} onChange={setBy} tried={tried} />
      </div>
      <ProblemNotice problem={problem} />
      <p role="status">
        {isDone &&
          (props.run.certificates.length > 0 ? 'Corrected. The certificate is to be written anew.' : 'Corrected.')}
      </p>
      <div className="actions">
        <Action submits>{props.button}</Action>
      </div>
    </form>
  );
}
