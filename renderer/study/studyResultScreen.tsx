import type { ReactNode } from 'react';
import { isPractice, type Run } from '../../core/inspection/run.ts';
import { outlookSentence } from '../../core/inspection/standingWords.ts';
import { Problem } from '../../core/problem/problem.ts';
import type { Study } from '../../core/study/study.ts';
import { studyOfRun } from '../../core/study/studyOfRun.ts';
import { BenchShown } from '../certify/benchShown.tsx';
import { CertificateFile } from '../certify/certificateFile.tsx';
import { Correct } from '../certify/correct.tsx';
import { LiftHold } from '../certify/liftHold.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { LookCloser } from '../lookCloser.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { PrintAction } from '../print/printAction.tsx';
import { StepPage } from '../stepPage.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { orderWords } from './orderWords.ts';
import { StudyReport } from './studyReport.tsx';
import '../certify/certifyScreen.css';

/** The result of a study that is closed: its file, and all that it says. On hold: why, and how to go on. */
export default function StudyResultScreen(props: { number: number; run: Run; card: ReactNode }) {
  const { number, run } = props;
  const { decided, plan } = run;
  if (!decided || plan.choice.kind !== 'study') return null;
  const result = decided.disposition === 'studied' ? resultOf(run) : null;
  return (
    <StepPage step="certify" title="Result of the study" card={props.card}>
      {isPractice(run) && <SimulatedMark where="measure" />}
      <p className="certify-fate">
        <span className={`fate fate-${decided.disposition}`}>{DISPOSITION_WORDS[decided.disposition]}</span>
        <span>{decided.disposition === 'on-hold' ? decided.reason : outlookSentence(run)}</span>
      </p>
      <CertificateFile
        number={number}
        run={run}
        holds="It is one CSV file with the plan of the study, the bench, every reading and all that follows from them, closed by a digest that shows any change."
        checks="it works out every figure and conclusion again from the readings."
      />
      {decided.disposition === 'on-hold' && <LiftHold number={number} run={run} />}
      {result instanceof Problem && <ProblemNotice problem={result} />}
      {result && !(result instanceof Problem) && (
        <>
          <div className="actions">
            <PrintAction words="Print this report" keyName="r" />
          </div>
          <StudyReport study={result} />
        </>
      )}
      <Correct number={number} run={run} decided={decided} />
      <LookCloser run={number} views={['story']} />
      <p className="quiet small">{orderWords(plan.choice)}</p>
      <BenchShown run={run} decidedAt={decided.at} />
    </StepPage>
  );
}

/** What the study says, or why nothing can be said. */
function resultOf(run: Run): Study | Problem | null {
  try {
    return studyOfRun(run);
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown;
    throw thrown;
  }
}
