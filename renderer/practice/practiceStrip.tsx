import { useState } from 'react';
import type { Run, Step } from '../../core/inspection/run.ts';
import { ACT_DONE, PRACTICE_ACTS, type PracticeAct } from '../../core/practice/practiceAct.ts';
import { PRACTICE_CAUSES, type PracticeCause } from '../../core/practice/practiceCause.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { Action } from '../controls/action.tsx';
import { ChoiceField, TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { DebriefShown } from './debriefShown.tsx';
import './practice.css';

const ASKED = { piece: 'At which piece', operator: 'Which operator' } as const;

/** What goes with an exercise beside every step: its task, what can be done at the bench, the cause that is named, and at the end the debrief. */
export function PracticeStrip({ number, run, step }: { number: number; run: Run; step: Step }) {
  const { line } = useStation();
  const { practice, practised } = run;
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const [wasScored] = useState(practised.scored !== null);
  if (!practice) return null;

  async function attempt(what: () => Promise<unknown>) {
    if (busy) return;
    setBusy(true);
    setProblem(null);
    try {
      await what();
      // The space bar takes the next reading again, and does not do the same once more.
      if (step === 'measure' && document.activeElement instanceof HTMLElement) document.activeElement.blur();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  return (
    <section className="practice-strip" aria-label="Exercise">
      {/* While pieces are measured the room is theirs; it opens by its line. */}
      <details open={step !== 'measure'} key={step === 'measure' ? 'measure' : 'beside'}>
        <summary>
          <strong>Exercise: {practice.title}.</strong>{' '}
          <span className="practice-short">
            {practised.scored
              ? 'It is over.'
              : practised.named
                ? `Named as the cause: ${practised.named.cause}.`
                : 'Task, acts at the bench, and naming the cause.'}
          </span>
        </summary>
        <p className="practice-task">{practice.task}</p>
        {practised.scored ? (
          <DebriefShown scored={practised.scored} asks={practice.asks} fresh={!wasScored} />
        ) : (
          <div className="practice-doing">
            {!run.decided && (
              <AtTheBench
                done={practised.acts.map(({ act }) => act)}
                busy={busy || !run.meter}
                onAct={(act) => attempt(() => line.ask('act-at-bench', { run: number, act }))}
              />
            )}
            <NameCause
              run={run}
              busy={busy}
              onName={(cause, which) => attempt(() => line.ask('name-cause', { run: number, cause, which }))}
            />
            {run.decided && (
              <div className="practice-part">
                <p>
                  {practised.named
                    ? 'The lot is decided and a cause is named. After the debrief nothing can be changed.'
                    : 'The lot is decided. Name a cause first: after the debrief nothing can be changed.'}
                </p>
                <Action
                  primary={practised.named !== null}
                  disabled={busy}
                  onPress={() => attempt(() => line.ask('debrief', { run: number }))}
                >
                  Have the debrief
                </Action>
              </div>
            )}
          </div>
        )}
        <ProblemNotice problem={problem} />
      </details>
    </section>
  );
}

function AtTheBench(props: { done: readonly PracticeAct[]; busy: boolean; onAct: (act: PracticeAct) => void }) {
  const [act, setAct] = useState<PracticeAct>(PRACTICE_ACTS[0]);
  const last = props.done.at(-1);
  return (
    <div className="practice-part">
      <div className="practice-row">
        <ChoiceField
          label="At the bench"
          value={act}
          onChange={setAct}
          choices={PRACTICE_ACTS.map((one) => [one, capital(one)] as const)}
        />
        <Action disabled={props.busy} onPress={() => props.onAct(act)}>
          Do it
        </Action>
      </div>
      <p className="small" role="status">
        {last ? ACT_DONE[last] : 'What was read before stands as it was read; make it void where it says nothing.'}
      </p>
    </div>
  );
}

function NameCause(props: { run: Run; busy: boolean; onName: (cause: PracticeCause, which: number | null) => void }) {
  const { practice, practised } = props.run;
  const { named } = practised;
  const [cause, setCause] = useState<PracticeCause>(named?.cause ?? PRACTICE_CAUSES[0]);
  const [which, setWhich] = useState(named?.which ? String(named.which) : '');
  const [tried, setTried] = useState(false);
  const asks = practice?.asks ?? null;
  const number = which.trim() === '' ? null : Number(which);
  const isNumber = number === null || (Number.isInteger(number) && number > 0);
  return (
    <div className="practice-part">
      <div className="practice-row">
        <ChoiceField
          label="What it was"
          value={cause}
          onChange={setCause}
          choices={PRACTICE_CAUSES.map((one) => [one, capital(one)] as const)}
        />
        {asks && (
          <TextField
            label={ASKED[asks]}
            value={which}
            onChange={setWhich}
            inputMode="numeric"
            problem={tried && !isNumber ? 'A whole number from 1.' : undefined}
          />
        )}
        <Action
          disabled={props.busy}
          onPress={() => {
            setTried(true);
            if (isNumber) props.onName(cause, asks ? number : null);
          }}
        >
          Name it
        </Action>
      </div>
      <p className="small" role="status">
        {named
          ? `Named: ${named.cause}${named.which === null ? '' : `, ${asks ?? 'number'} ${named.which}`}. Another one may be named until the debrief.`
          : 'Nothing is named yet.'}
      </p>
    </div>
  );
}
