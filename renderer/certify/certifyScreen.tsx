import type { ReactNode } from 'react';
import { outlook, type Run } from '../../core/inspection/run.ts';
import { Charts } from '../charts/chartsLater.tsx';
import { LookCloser } from '../lookCloser.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { StepPage } from '../stepPage.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { outlookSentence } from '../words/plan.ts';
import { BenchShown } from './benchShown.tsx';
import { CertificateFile } from './certificateFile.tsx';
import { DecisionShown } from './decisionShown.tsx';
import { LiftHold } from './liftHold.tsx';
import './certifyScreen.css';

/** Certifying: the certificate's file, its digest and how anybody can check it; then the next lot. */
export function CertifyScreen(props: { number: number; run: Run; card: ReactNode }) {
  const { number, run } = props;
  if (!run.decided) return null;
  return (
    <StepPage step="certify" title="Certify the lot" card={props.card}>
      {run.meter?.identity.simulated && <SimulatedMark where="measure" />}
      <p className="certify-fate">
        <span className={`fate fate-${run.decided.disposition}`}>{DISPOSITION_WORDS[run.decided.disposition]}</span>
        <span>
          {run.decided.disposition === 'on-hold'
            ? run.decided.reason
            : outlookSentence(outlook(run), run.tally, run.plan)}
        </span>
      </p>
      <CertificateFile
        number={number}
        run={run}
        decidedAt={run.decided.at}
        holds="It is one CSV file with the lot, the bench, every reading and the disposition, closed by a digest that shows any change."
        checks="it works out every verdict, the tally and the disposition again from the rows."
      />
      {run.decided.disposition === 'on-hold' && <LiftHold number={number} run={run} />}
      <LookCloser run={number} views={['worth', 'figures', 'lots']} disabled={run.readings.size === 0} />
      <DecisionShown run={run} />
      <BenchShown run={run} decidedAt={run.decided.at} />
      <Charts run={run} />
    </StepPage>
  );
}
