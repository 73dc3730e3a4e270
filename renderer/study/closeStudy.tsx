import { type ReactNode, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { outlook } from '../../core/inspection/outlook.ts';
import { isPractice, type Run } from '../../core/inspection/run.ts';
import { outlookSentence } from '../../core/inspection/standingWords.ts';
import { asProblem, type Problem, problem as problemOf } from '../../core/problem/problem.ts';
import { isProven } from '../../core/readiness/round.ts';
import { Action } from '../controls/action.tsx';
import { RadioField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField, WhyField } from '../controls/whoAndWhy.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import '../decide/decideScreen.css';

/** A key still held from the last reading must not close a study. */
const SETTLE_MILLISECONDS = 700;

type Fate = 'studied' | 'on-hold';
const VERBS: Record<Fate, string> = { studied: 'Close the study', 'on-hold': 'Put the study on hold' };

/** Closing a study that has all its readings, or putting it on hold. What it says is shown once it is closed. */
export default function CloseStudy(props: {
  number: number;
  run: Run;
  card: ReactNode;
  /** Back to measuring, or to the bench, where that is possible. */
  back: { words: string; go: () => void } | null;
}) {
  const { number, run, back } = props;
  const { line } = useStation();
  const says = outlook(run);
  const complete = says === 'studied';
  const proven = isProven(run);
  const canClose = complete && proven;
  const [chosen, setChosen] = useState<Fate>('studied');
  const fate: Fate = canClose ? chosen : 'on-hold';
  const onHold = fate === 'on-hold';
  const [by, setBy] = useState(run.inspector);
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const since = useRef(Number.POSITIVE_INFINITY);
  useEffect(() => {
    since.current = performance.now();
  }, []);

  const closeButton = useRef<HTMLButtonElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: where this step begins
  useLayoutEffect(() => {
    if (canClose) closeButton.current?.focus({ preventScroll: true });
  }, []);

  async function close() {
    if (performance.now() - since.current < SETTLE_MILLISECONDS) return;
    setTried(true);
    if (by.trim() === '' || (onHold && reason.trim() === '')) return;
    try {
      await line.ask('decide-lot', { run: number, disposition: fate, by, reason: onHold ? reason : '' });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <StepPage step="decide" title={canClose ? VERBS.studied : VERBS['on-hold']} card={props.card}>
      {isPractice(run) && <SimulatedMark where="measure" />}
      <p className="decide-says">{outlookSentence(run)}</p>
      {complete && !proven && <ProblemNotice problem={problemOf('closing-check-missing')} />}
      <form
        className="decide-form"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          close();
        }}
      >
        {canClose && (
          <RadioField<Fate>
            legend="What becomes of the study"
            name="fate"
            value={fate}
            onChange={setChosen}
            choices={[
              ['studied', VERBS.studied],
              ['on-hold', VERBS['on-hold']],
            ]}
          />
        )}
        {onHold && <WhyField label="Reason" value={reason} onChange={setReason} tried={tried} autoFocus={!canClose} />}
        <WhoField label={onHold ? 'Put on hold by' : 'Closed by'} value={by} onChange={setBy} tried={tried} />
        <ProblemNotice problem={problem} />
        <div className="actions">
          <Action primary submits keyName="Enter" notBySpace ref={closeButton}>
            {VERBS[fate]}
          </Action>
          {back && <Action onPress={back.go}>{back.words}</Action>}
        </div>
        {!onHold && (
          <p className="quiet small">
            A study that is closed stays as it is; nothing is added to it. Its result is shown next.
          </p>
        )}
      </form>
    </StepPage>
  );
}
