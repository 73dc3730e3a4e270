import { useEffect, useState } from 'react';
import { outlook, type Run } from '../core/inspection/run.ts';
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
  const { link } = useStation();
  const { run, problem, hold } = useRun(number);
  /** Somebody chose to put the lot on hold, or to take it up again. */
  const [chosen, setChosen] = useState<'hold' | 'go-on' | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another run begins with no choice made
  useEffect(() => setChosen(null), [number]);
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
  if (!run) return <main className="lone" aria-busy="true" aria-label={`Run ${number}`} />;

  const onHold = run.decided?.disposition === 'on-hold';
  const undecided: Run = onHold && chosen === 'go-on' ? { ...run, decided: null } : run;
  const own = shownStep(undecided, link, number);
  const step = chosen === 'hold' && own !== 'certify' ? 'decide' : own;
  const card = <LotCard number={number} facts={cardFacts(run)} run={run} step={step} />;

  switch (step) {
    case 'ready':
      return <ReadyScreen number={number} run={run} card={card} />;
    case 'measure':
      return <MeasureScreen number={number} run={run} card={card} hold={hold} onPutOnHold={() => setChosen('hold')} />;
    case 'decide':
      return (
        <DecideScreen
          number={number}
          run={run}
          card={card}
          back={outlook(run) === 'undecided' ? { words: 'Go on measuring', go: () => setChosen(null) } : null}
          onDecided={() => setChosen(null)}
        />
      );
    case 'certify':
      return (
        <CertifyScreen
          number={number}
          run={run}
          card={card}
          goOn={onHold ? { words: 'Take the lot up again', go: () => setChosen('go-on') } : null}
        />
      );
  }
}
