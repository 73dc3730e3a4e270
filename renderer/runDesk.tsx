import { useEffect, useState } from 'react';
import { outlook } from '../core/inspection/run.ts';
import { CertifyScreen } from './certify/certifyScreen.tsx';
import { Action } from './controls/action.tsx';
import { ProblemNotice } from './controls/problemNotice.tsx';
import { DecideScreen } from './decide/decideScreen.tsx';
import { cardFacts, LotCard } from './lotCard/lotCard.tsx';
import { interruptionOf } from './measure/interruption.ts';
import { MeasureScreen } from './measure/measureScreen.tsx';
import { ReadyScreen } from './ready/readyScreen.tsx';
import { goTo } from './route.ts';
import { shownStep } from './shownStep.ts';
import { useSoundOf } from './sound/useSoundOf.ts';
import { useRun, useStation } from './station/station.tsx';

/** One run at the step it has come to. */
export function RunDesk({ number }: { number: number }) {
  const { link, linkKnown } = useStation();
  const { run, problem, hold } = useRun(number);
  /** Somebody is about to put the lot on hold before the plan decides. */
  const [holding, setHolding] = useState(false);
  /** Number of the last reading that something else came after: the measuring screen does not show it again. */
  const [putAway, setPutAway] = useState(0);
  const own = run && linkKnown ? shownStep(run, link, number) : null;
  const step = holding && own !== null && own !== 'certify' ? 'decide' : own;
  const newest = run?.readings.size ?? 0;
  useEffect(() => {
    if (step !== null && step !== 'measure') setPutAway(newest);
  }, [step, newest]);
  useSoundOf(run, run !== null && !run.decided && interruptionOf(run, link) !== null);

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
  if (!run || !step) return <main className="lone" aria-busy="true" aria-label={`Run ${number}`} />;

  const card = <LotCard number={number} facts={cardFacts(run)} run={run} step={step} />;

  switch (step) {
    case 'ready':
      return <ReadyScreen number={number} run={run} card={card} />;
    case 'measure':
      return (
        <MeasureScreen
          number={number}
          run={run}
          card={card}
          hold={hold}
          putAway={putAway}
          onPutAway={setPutAway}
          onPutOnHold={() => setHolding(true)}
        />
      );
    case 'decide':
      return (
        <DecideScreen
          number={number}
          run={run}
          card={card}
          back={outlook(run) === 'undecided' ? { words: 'Go on measuring', go: () => setHolding(false) } : null}
          onDecided={() => setHolding(false)}
        />
      );
    case 'certify':
      return <CertifyScreen number={number} run={run} card={card} />;
  }
}
