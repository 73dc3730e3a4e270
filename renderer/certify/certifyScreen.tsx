import type { ReactNode } from 'react';
import { isPractice, type Run } from '../../core/inspection/run.ts';
import { outlookSentence } from '../../core/inspection/standingWords.ts';
import { Charts } from '../charts/chartsLater.tsx';
import { LookCloser } from '../lookCloser.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { StepPage } from '../stepPage.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { BenchShown } from './benchShown.tsx';
import { CertificateFile } from './certificateFile.tsx';
import { Correct } from './correct.tsx';
import { DecisionShown } from './decisionShown.tsx';
import { HowDecided } from './howDecided.tsx';
import { LiftHold } from './liftHold.tsx';
import './certifyScreen.css';

/** Certifying: the certificate's file, its digest and how anybody can check it; then the next lot. */
export function CertifyScreen(props: { number: number; run: Run; card: ReactNode }) {
  const { number, run } = props;
  if (!run.decided) return null;
  return (
    <StepPage step="certify" title="Certify the lot" card={props.card}>
      {isPractice(run) && <SimulatedMark where="measure" />}
      <p className="certify-fate">
        <span className={`fate fate-${run.decided.disposition}`}>{DISPOSITION_WORDS[run.decided.disposition]}</span>
        <span>{run.decided.disposition === 'on-hold' ? run.decided.reason : outlookSentence(run)}</span>
      </p>
      <HowDecided run={run} decided={run.decided} />
      <CertificateFile
        number={number}
        run={run}
        holds="It is one CSV file with the lot, the bench, every reading and the disposition, closed by a digest that shows any change and signed by this station’s key."
        checks="it works out every verdict, the tally and the disposition again from the rows."
      />
      {run.decided.disposition === 'on-hold' && <LiftHold number={number} run={run} />}
      <Correct number={number} run={run} decided={run.decided} />
      <LookCloser run={number} views={['worth', 'figures', 'lots', 'story']} disabled={run.readings.size === 0} />
      <DecisionShown run={run} />
      <BenchShown run={run} decidedAt={run.decided.at} />
      <Charts run={run} />
    </StepPage>
  );
}
