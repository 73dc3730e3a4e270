import { useLayoutEffect, useRef, useState } from 'react';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import type { Answers } from '../../core/contract/contract.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { FileFacts } from '../certify/fileFacts.tsx';
import { saveFile } from '../certify/saveFile.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhyField } from '../controls/whoAndWhy.tsx';
import { PrintAction } from '../print/printAction.tsx';
import { useStation } from '../station/station.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { formatTime } from '../words/time.ts';

/** How it was decided, its certificate, and the way off a hold. */
export function CertifyWiring({ number, run }: { number: number; run: ContinuityRun }) {
  const { line } = useStation();
  const [written, setWritten] = useState<Answers['write-continuity'] | null>(null);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  const button = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => button.current?.focus(), []);
  const { decided } = run;
  if (!decided) return null;

  async function write() {
    if (busy) return;
    setBusy(true);
    setProblem(null);
    try {
      setWritten(await line.ask('write-continuity', { run: number }));
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  return (
    <section className="wiring-step" aria-label="The decision and its certificate">
      <p>
        <span className={`fate fate-${decided.disposition}`}>{DISPOSITION_WORDS[decided.disposition]}</span> by{' '}
        {decided.by}
        {decided.approvedBy !== null && <> and {decided.approvedBy}</>}, {formatTime(decided.at)}
        {decided.reason !== '' && <>: {decided.reason}</>}
      </p>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action ref={button} primary={written === null} keyName="Enter" onPress={write} disabled={busy}>
          {run.certificates.length > 0 ? 'Write the certificate again' : 'Write the certificate'}
        </Action>
        {written && line.door === 'loopback' && (
          <Action keyName="s" onPress={() => saveFile(written.file, written.text)}>
            Save a copy
          </Action>
        )}
        <PrintAction />
      </div>
      <div aria-live="polite">
        {written && (
          <section className="certify-file" aria-label="The file of the certificate">
            <h2>The file of the certificate</h2>
            <FileFacts
              file={written.file}
              sha256={written.sha256}
              checks="replays every check and reading from the meter’s own texts, and compares every verdict, net and cell"
            />
          </section>
        )}
      </div>
      {decided.disposition === 'on-hold' && <LiftHold number={number} run={run} />}
    </section>
  );
}

function LiftHold({ number, run }: { number: number; run: ContinuityRun }) {
  const { line } = useStation();
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  return (
    <form
      className="wiring-why"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (reason.trim() === '') return;
        line
          .ask('lift-continuity-hold', { run: number, by: run.inspector, reason })
          .catch((thrown) => setProblem(asProblem(thrown)));
      }}
    >
      <WhyField label="Why does it go on?" value={reason} onChange={setReason} tried={tried} />
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action submits>Lift the hold</Action>
      </div>
    </form>
  );
}
