import { useLayoutEffect, useRef } from 'react';
import { CONTINUITY_BOUNDS, CONTINUITY_CAUTIONS } from '../../core/continuity/continuityCautions.ts';
import {
  type ContinuityRun,
  continuityOutlook,
  continuityStep,
  continuityTally,
  isContinuityPractice,
} from '../../core/continuity/continuityRun.ts';
import { OUTLOOK_WORDS } from '../../core/continuity/continuityWords.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { Cautions } from '../ready/cautions.tsx';
import { hashOf } from '../route.ts';
import { useStation } from '../station/station.tsx';
import { formatCount } from '../words/count.ts';
import { formatTime } from '../words/time.ts';
import { CertifyWiring } from './certifyWiring.tsx';
import { CheckLeads } from './checkLeads.tsx';
import { ConnectWiring } from './connectWiring.tsx';
import { DecideWiring } from './decideWiring.tsx';
import { MeasurePoints } from './measurePoints.tsx';
import { useSoundOfWiring } from './useSoundOfWiring.ts';
import { useWiringRun } from './useWiringRun.ts';
import { WiringResults } from './wiringResults.tsx';
import { STEP_WORDS } from './wiringWords.ts';
import './wiring.css';

/** One continuity run: the step it stands at, and below it all that was found so far. */
export function WiringDesk({ number }: { number: number }) {
  const { run, problem } = useWiringRun(number);
  useSoundOfWiring(number, run);
  if (!run) {
    return (
      <main className="sheet" aria-busy={problem === null}>
        <h1>Continuity run {number}</h1>
        <ProblemNotice problem={problem} />
        <p>
          <a href={hashOf({ screen: 'wiring' })}>All continuity runs</a>
        </p>
      </main>
    );
  }
  return <Desk number={number} run={run} />;
}

function Desk({ number, run }: { number: number; run: ContinuityRun }) {
  const { line, wiringLink } = useStation();
  const isConnected = wiringLink.state === 'connected' && wiringLink.run === number;
  const next = continuityStep(run);
  // Nothing is measured or checked without the meter here and now, whatever the record says.
  const step = next === 'decide' || next === 'certify' || isConnected ? next : 'connect';
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    document.title = `${STEP_WORDS[step]} · ${run.title} · Reelohm`;
    const focused = document.activeElement;
    if (!focused || focused === document.body) heading.current?.focus();
  }, [step, run.title]);
  const tally = continuityTally(run);
  return (
    <main className="sheet wiring">
      <header className="wiring-head">
        <div>
          <h1 ref={heading} tabIndex={-1}>
            {STEP_WORDS[step]}
          </h1>
          <p className="quiet">
            <a href={hashOf({ screen: 'wiring' })}>Continuity run {number}</a>: {run.title}
            {run.drawing !== '' && <>, drawing {run.drawing}</>}
            {run.serial !== '' && <>, serial number {run.serial}</>}
            {`, received by ${run.inspector}, ${formatTime(run.receivedAt)}. `}
            Closed below {shown(run.limits.closedBelowOhms)}, open above {shown(run.limits.openAboveOhms)}.
          </p>
        </div>
        <dl className="wiring-tally" aria-label="How the points stand">
          <Count words="as expected" count={tally['as-expected']} kind="as-expected" />
          <Count words="not as expected" count={tally['not-as-expected']} kind="not-as-expected" />
          <Count words="cannot tell" count={tally['cannot-tell']} kind="cannot-tell" />
          <Count words="skipped" count={tally.skipped} kind="skipped" />
          <Count words="left" count={tally.left} kind="left" />
        </dl>
      </header>
      {isContinuityPractice(run) && <SimulatedMark where="measure" />}
      {step === 'connect' && <ConnectWiring number={number} run={run} />}
      {step === 'cautions' && (
        <Cautions
          cautions={CONTINUITY_CAUTIONS}
          legend="Before the probes touch anything, confirm each"
          inspector={run.inspector}
          onConfirm={(by) => line.ask('confirm-continuity', { run: number, by, cautions: [...CONTINUITY_CAUTIONS] })}
        />
      )}
      {step === 'check' && <CheckLeads number={number} run={run} />}
      {step === 'measure' && <MeasurePoints number={number} run={run} />}
      {step === 'decide' && <DecideWiring number={number} run={run} />}
      {step === 'certify' && <CertifyWiring number={number} run={run} />}
      <p className="unseen" role="status">
        {OUTLOOK_WORDS[continuityOutlook(run)]}
      </p>
      <WiringResults number={number} run={run} />
      <section className="block" aria-label="What such a run does not show">
        <h2>What such a run does not show</h2>
        <ul className="block-notes">
          {CONTINUITY_BOUNDS.map((bound) => (
            <li key={bound}>{bound}</li>
          ))}
        </ul>
      </section>
    </main>
  );
}

function Count({ words, count, kind }: { words: string; count: number; kind: string }) {
  return (
    <div className={count > 0 ? `wiring-count wiring-count-${kind}` : 'wiring-count'}>
      <dt className="small">{words}</dt>
      <dd className="figures">{formatCount(count)}</dd>
    </div>
  );
}

function shown(ohms: string): string {
  return formatOhms(ohms).replace(' ', '\u00a0');
}
