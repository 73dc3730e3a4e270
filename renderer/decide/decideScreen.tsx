import { lazy, type ReactNode, Suspense, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { Disposition } from '../../core/inspection/event.ts';
import { outlook } from '../../core/inspection/outlook.ts';
import { counts, isPractice, type Run } from '../../core/inspection/run.ts';
import { outlookSentence } from '../../core/inspection/standingWords.ts';
import { asProblem, type Problem, problem as problemOf } from '../../core/problem/problem.ts';
import { isProven } from '../../core/readiness/round.ts';
import { Charts } from '../charts/chartsLater.tsx';
import { Action } from '../controls/action.tsx';
import { RadioField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField, WhyField } from '../controls/whoAndWhy.tsx';
import { LookCloser } from '../lookCloser.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { lastReading, VoidReading } from '../measure/voidReading.tsx';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { ruleWords, temperatureWords } from '../words/decision.ts';
import { readingText } from '../words/ohms.ts';
import { uncertaintyText } from '../words/uncertainty.ts';
import './decideScreen.css';

/** The statistics are fetched when they are first needed. */
const LotNotes = lazy(() => import('./lotNotesShown.tsx'));

/** A key still held from the last reading must not decide a lot. */
const SETTLE_MILLISECONDS = 700;

/** A study is closed by a screen of its own (renderer/study). */
type LotDisposition = Exclude<Disposition, 'studied'>;

const VERBS: Record<LotDisposition, string> = {
  accepted: 'Accept the lot',
  'not-accepted': 'Do not accept the lot',
  'on-hold': 'Put the lot on hold',
};

/** What else than the plan says somebody may answer for. */
const OTHERWISE = { accepted: 'not-accepted', 'not-accepted': 'accepted' } as const;

function verbFor(disposition: LotDisposition, planned: 'accepted' | 'not-accepted' | 'on-hold' | null): string {
  if (planned === null || disposition === 'on-hold' || disposition === planned) return VERBS[disposition];
  return disposition === 'accepted' ? 'Accept although the plan does not' : 'Do not accept although the plan would';
}

/** Deciding the lot: what the plan says and why; to decide otherwise, by name and reason; or to put the lot on hold. */
export function DecideScreen(props: {
  number: number;
  run: Run;
  card: ReactNode;
  /** Back to measuring, or to what was decided, where that is possible. */
  back: { words: string; go: () => void } | null;
}) {
  const { number, run } = props;
  const { line } = useStation();
  const says = outlook(run);
  const proven = isProven(run);
  const byPlan: LotDisposition | null = says === 'accept' ? 'accepted' : says === 'not-accept' ? 'not-accepted' : null;
  const planned = proven ? byPlan : null;
  const [chosen, setChosen] = useState<LotDisposition>(planned ?? 'on-hold');
  const disposition = planned === null ? 'on-hold' : chosen;
  const [reason, setReason] = useState('');
  const [approvedBy, setApprovedBy] = useState('');
  const [by, setBy] = useState(run.inspector);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const since = useRef(Number.POSITIVE_INFINITY);
  useEffect(() => {
    since.current = performance.now();
  }, []);

  const decideButton = useRef<HTMLButtonElement>(null);
  // Not the name: it is known, and the letters of this screen's keys would be written into it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: where this step begins
  useLayoutEffect(() => {
    if (planned) decideButton.current?.focus({ preventScroll: true });
  }, []);

  const last = lastReading(run);
  const needsReason = disposition !== planned;
  const needsSecond = disposition === 'accepted' && planned === 'not-accepted';
  const choices: LotDisposition[] = planned ? [planned, 'on-hold', OTHERWISE[planned]] : ['on-hold'];

  async function decide() {
    if (performance.now() - since.current < SETTLE_MILLISECONDS) return;
    setTried(true);
    if (by.trim() === '' || (needsReason && reason.trim() === '') || (needsSecond && approvedBy.trim() === '')) return;
    try {
      await line.ask('decide-lot', {
        run: number,
        disposition,
        by,
        reason: needsReason ? reason : '',
        ...(needsSecond && { approvedBy }),
      });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <StepPage step="decide" title={planned ? 'Decide the lot' : 'Put the lot on hold'} card={props.card}>
      {isPractice(run) && <SimulatedMark where="measure" />}
      <p className="decide-says">{outlookSentence(run)}</p>
      <p className="quiet">
        {ruleWords(run.decision)}; values {temperatureWords(run.temperature)}.
      </p>
      {byPlan !== null && !proven && <ProblemNotice problem={problemOf('closing-check-missing')} />}
      {last && (
        <p className={`decide-last verdict-words-${last.verdict}`} role="status">
          <VerdictMark verdict={last.verdict} /> Piece {last.piece}: {VERDICT_WORDS[last.verdict]},{' '}
          <span className="figures">{readingText(last, run.window)}</span>
          {last.uncertainty && <span className="figures"> {uncertaintyText(last.uncertainty)}</span>}
        </p>
      )}
      <WindowBar
        window={run.window}
        guard={guardOf(run)}
        size="large"
        piece={last}
        recent={run.readings.takeLast(60).filter((reading) => counts(reading) && reading !== last)}
      />
      <Suspense>
        <LotNotes run={run} />
      </Suspense>
      <form
        className="decide-form"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          decide();
        }}
      >
        {choices.length > 1 && (
          <RadioField<LotDisposition>
            legend="Disposition of the lot"
            name="disposition"
            value={disposition}
            onChange={setChosen}
            choices={choices.map((choice) => [choice, verbFor(choice, planned)] as const)}
          />
        )}
        {needsReason && (
          <WhyField label="Reason" value={reason} onChange={setReason} tried={tried} autoFocus={!planned} />
        )}
        <WhoField label="Decided by" value={by} onChange={setBy} tried={tried} />
        {needsSecond && (
          <WhoField
            label="Second person who answers for it"
            value={approvedBy}
            onChange={setApprovedBy}
            tried={tried}
          />
        )}
        <ProblemNotice problem={problem} />
        <div className="actions">
          <Action primary submits keyName="Enter" notBySpace ref={decideButton}>
            {verbFor(disposition, planned)}
          </Action>
          {props.back && (
            <Action keyName="Escape" onPress={props.back.go}>
              {props.back.words}
            </Action>
          )}
          {planned && <VoidReading number={number} run={run} />}
        </div>
        {disposition !== 'on-hold' && (
          <p className="quiet small">
            A lot that is decided is closed; nothing is added to it but corrections, by name and reason.
          </p>
        )}
      </form>
      <LookCloser run={number} views={['worth', 'figures', 'lots', 'story']} disabled={!last} />
      <Charts run={run} />
    </StepPage>
  );
}
