import { type ReactNode, useState } from 'react';
import { outlook, type Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Charts } from '../charts/chartsLater.tsx';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { goTo } from '../route.ts';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { outlookSentence } from '../words/plan.ts';
import { formatTime } from '../words/time.ts';
import { BenchShown } from './benchShown.tsx';
import { LiftHold } from './liftHold.tsx';
import { saveFile } from './saveFile.ts';
import './certifyScreen.css';

/** Certifying: the certificate's file, its digest and how anybody can check it; then the next lot. */
export function CertifyScreen(props: { number: number; run: Run; card: ReactNode }) {
  const { number, run } = props;
  const { line, link } = useStation();
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const certificate = run.certificates.at(-1);

  async function attempt(what: () => Promise<unknown>) {
    if (busy) return;
    setProblem(null);
    setBusy(true);
    try {
      await what();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }
  const write = () => attempt(() => line.ask('write-certificate', { run: number }));
  const save = () =>
    attempt(async () => {
      const { file, text } = await line.ask('read-certificate', { run: number });
      saveFile(file, text);
    });

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
      <section className="certify-file" aria-labelledby="certify-file" aria-live="polite">
        <h2 id="certify-file">The certificate</h2>
        {certificate ? (
          <dl className="certify-facts">
            <dt>File</dt>
            <dd className="machine">{certificate.file}</dd>
            <dt>SHA-256</dt>
            <dd className="machine certify-digest">{inGroups(certificate.sha256)}</dd>
            <dt>Written</dt>
            <dd>{formatTime(certificate.at)}</dd>
            <dt>To check it</dt>
            <dd>
              <code className="machine">npx reelohm verify "{certificate.file}"</code>
              <span className="quiet small certify-line">
                in this program’s folder, on any computer: it works out every verdict, the tally and the disposition
                again from the rows.
              </span>
            </dd>
          </dl>
        ) : (
          <p className="quiet">
            Not written yet. It is one CSV file with the lot, the bench, every reading and the disposition, closed by a
            digest that shows any change.
          </p>
        )}
      </section>
      <ProblemNotice problem={problem} />
      <div className="actions">
        {certificate ? (
          <Action primary keyName="n" onPress={() => goTo({ screen: 'receive' })}>
            Receive the next lot
          </Action>
        ) : (
          <Action primary keyName="Enter" onPress={write} disabled={busy}>
            Write the certificate
          </Action>
        )}
        {certificate && line.door === 'loopback' && (
          <Action keyName="s" onPress={save} disabled={busy}>
            Save a copy
          </Action>
        )}
        {!certificate && (
          <Action keyName="n" onPress={() => goTo({ screen: 'receive' })}>
            Receive the next lot
          </Action>
        )}
        {certificate && run.decided.at > certificate.at && (
          <Action onPress={write} disabled={busy}>
            Write the certificate anew
          </Action>
        )}
        {link.state === 'connected' && link.run === number && (
          <Action onPress={() => attempt(() => line.ask('release-meter', {}))}>Release the meter</Action>
        )}
      </div>
      {run.decided.disposition === 'on-hold' && <LiftHold number={number} run={run} />}
      <BenchShown run={run} decidedAt={run.decided.at} />
      <Charts run={run} />
    </StepPage>
  );
}

/** A digest in groups of eight, so that two can be compared by eye. */
function inGroups(sha256: string) {
  return sha256.match(/.{1,8}/g)?.map((group, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: groups do not move
    <span key={index}>{group}</span>
  ));
}
