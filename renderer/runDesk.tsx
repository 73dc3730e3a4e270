import { lazy, type ReactNode, Suspense, useEffect, useState } from 'react';
import type { Live } from '../core/contract/contract.ts';
import { CertifyScreen } from './certify/certifyScreen.tsx';
import { Action } from './controls/action.tsx';
import { ProblemNotice } from './controls/problemNotice.tsx';
import { DecideScreen } from './decide/decideScreen.tsx';
import { chosenOverrides } from './hands/captureSetting.ts';
import type { Taking } from './hands/chooseTaking.tsx';
import { useKey } from './keys/useKey.ts';
import { cardFacts, LotCard } from './lotCard/lotCard.tsx';
import { interruptionOf } from './measure/interruption.ts';
import { MeasureScreen } from './measure/measureScreen.tsx';
import { ReadyScreen } from './ready/readyScreen.tsx';
import { goTo, type RunView } from './route.ts';
import { RunOpening } from './runOpening.tsx';
import { shownStep } from './shownStep.ts';
import { useSoundOf } from './sound/useSoundOf.ts';
import { useRun, useStation } from './station/station.tsx';

const BACK_WORDS = { ready: 'Back to the bench', measure: 'Go on measuring' };

/** What is not needed to measure is fetched when it is asked for. */
const VIEWS = {
  worth: lazy(() => import('./worth/worthScreen.tsx')),
  figures: lazy(() => import('./figures/figuresScreen.tsx')),
  lots: lazy(() => import('./lots/lotsScreen.tsx')),
  story: lazy(() => import('./story/storyScreen.tsx')),
  print: lazy(() => import('./print/printScreen.tsx')),
};
const PracticeStrip = lazy(async () => ({ default: (await import('./practice/practiceStrip.tsx')).PracticeStrip }));
const CloseStudy = lazy(() => import('./study/closeStudy.tsx'));
const StudyResult = lazy(() => import('./study/studyResultScreen.tsx'));

/** How readings of a run are taken before anybody chose on this screen: as they are already, else each by key. */
function takingUnderWay(live: Live | null, run: number): Taking {
  const by = live?.run === run && live.phase !== 'off' ? live.by : 'key';
  return { by, overrides: chosenOverrides() };
}

/** One run at the step it has come to, or what somebody looks at beside it; above it, of an exercise, what goes with that. */
export function RunDesk({ number, view }: { number: number; view: RunView | undefined }) {
  const { link, linkKnown, live } = useStation();
  const { run, problem, opening, hold } = useRun(number);
  /** Somebody is about to put the lot on hold before the plan decides. */
  const [holding, setHolding] = useState(false);
  /** Number of the last reading that something else came after: the measuring screen does not show it again. */
  const [putAway, setPutAway] = useState(0);
  const own = run && linkKnown ? shownStep(run, link, number) : null;
  /** Somebody wants the bench checked before the checks are due. */
  const [checking, setChecking] = useState(false);
  const chosen = holding ? 'decide' : checking && own === 'measure' ? 'ready' : own;
  const step = own === null || own === 'certify' ? own : chosen;
  const [taking, setTaking] = useState<Taking | null>(null);
  const newest = run?.readings.size ?? 0;
  useEffect(() => {
    if (step !== null && step !== 'measure') setPutAway(newest);
  }, [step, newest]);
  // Once the checks are under way they are what the run itself asks for; and what is decided is put on hold no more.
  useEffect(() => {
    if (own !== 'measure') setChecking(false);
    if (own === 'certify') setHolding(false);
  }, [own]);
  useSoundOf(number, run, run !== null && !run.decided && interruptionOf(run, link) !== null);

  const back = () => goTo({ screen: 'run', run: number });
  useKey('Escape', view ? back : null);

  if (problem) {
    return (
      <main className="lone">
        <h1>Run {number}</h1>
        <ProblemNotice problem={problem} />
        <div className="actions">
          <Action primary onPress={() => goTo({ screen: 'runs' })}>
            Show all runs
          </Action>
        </div>
      </main>
    );
  }
  const waiting = <RunOpening number={number} opening={opening} />;
  if (!run || !step) return waiting;
  if (view) {
    const View = VIEWS[view];
    return (
      <Suspense fallback={waiting}>
        <View number={number} run={run} back={back} />
      </Suspense>
    );
  }

  const card = <LotCard number={number} facts={cardFacts(run)} run={run} step={step} />;
  const stepShown = (): ReactNode => {
    switch (step) {
      case 'ready':
        return (
          <ReadyScreen
            number={number}
            run={run}
            card={card}
            hold={hold}
            back={own === 'measure' ? { words: 'Go on measuring', go: () => setChecking(false) } : null}
            onPutOnHold={() => setHolding(true)}
          />
        );
      case 'measure':
        return (
          <MeasureScreen
            number={number}
            run={run}
            card={card}
            hold={hold}
            putAway={putAway}
            onPutAway={setPutAway}
            onCheckBench={() => setChecking(true)}
            onPutOnHold={() => setHolding(true)}
            taking={taking ?? takingUnderWay(live.latest, number)}
            onTaking={setTaking}
          />
        );
      case 'decide': {
        const goBack =
          own === 'decide'
            ? null
            : { words: BACK_WORDS[own === 'ready' ? 'ready' : 'measure'], go: () => setHolding(false) };
        return run.plan.choice.kind === 'study' ? (
          <Suspense fallback={waiting}>
            <CloseStudy number={number} run={run} card={card} back={goBack} />
          </Suspense>
        ) : (
          <DecideScreen number={number} run={run} card={card} back={goBack} />
        );
      }
      case 'certify':
        return run.plan.choice.kind === 'study' ? (
          <Suspense fallback={waiting}>
            <StudyResult number={number} run={run} card={card} />
          </Suspense>
        ) : (
          <CertifyScreen number={number} run={run} card={card} />
        );
    }
  };
  return (
    <>
      {run.practice && (
        <Suspense>
          <PracticeStrip number={number} run={run} step={step} />
        </Suspense>
      )}
      {stepShown()}
    </>
  );
}
