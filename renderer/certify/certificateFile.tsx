import { useState } from 'react';
import { isCertificateStale } from '../../core/inspection/certificateStale.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { goTo } from '../route.ts';
import { useStation } from '../station/station.tsx';
import { useLongWork } from '../station/useLongWork.ts';
import { FileFacts } from './fileFacts.tsx';
import { saveFile } from './saveFile.ts';
import './certifyScreen.css';

/** The certificate of a run that is decided: its file and digest, and all that can be done with it; then the next lot. */
export function CertificateFile(props: {
  number: number;
  run: Run;
  /** What the file holds, while it is not written yet. */
  holds: string;
  /** What checking it does. */
  checks: string;
}) {
  const { number, run } = props;
  const { line, link, keyFingerprint } = useStation();
  const [problem, setProblem] = useState<Problem | null>(null);
  const [isBusy, setBusy] = useState(false);
  // Whoever leaves and comes back, or looks from another window, sees the same certificate being written.
  const writing = useLongWork(`certificate of run ${number}`);
  const busy = isBusy || writing.busy;
  const certificate = run.certificates.at(-1);
  const isStale = isCertificateStale(run);
  const isWritten = certificate !== undefined && !isStale;

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
  const write = () => attempt(() => writing.ask('write-certificate', { run: number }));
  const save = () =>
    attempt(async () => {
      const { file, text } = await line.ask('read-certificate', { run: number });
      saveFile(file, text);
    });

  return (
    <>
      <section className="certify-file" aria-labelledby="certify-file" aria-live="polite">
        <h2 id="certify-file">The certificate</h2>
        {isStale && (
          <p className="certify-stale">
            <strong>Out of date.</strong> Since this file was written the lot was decided anew or something was
            corrected. Write it anew; the file below stays as it is.
          </p>
        )}
        {writing.busy ? (
          // Its entry is there before its file has its name: whoever reads the name here may open the file at once.
          <p className="quiet">Being written. {props.holds}</p>
        ) : certificate ? (
          <FileFacts {...certificate} signedBy={keyFingerprint} checks={props.checks} />
        ) : (
          <p className="quiet">Not written yet. {props.holds}</p>
        )}
      </section>
      <ProblemNotice problem={problem} />
      <WorkBar work={writing} words="Writing the certificate" stoppedWords="Stopped. No certificate was written." />
      <div className="actions">
        {isWritten ? (
          <Action primary keyName="n" onPress={() => goTo({ screen: 'receive' })}>
            Receive the next lot
          </Action>
        ) : (
          <Action primary keyName="Enter" onPress={write} disabled={busy}>
            {certificate ? 'Write the certificate anew' : 'Write the certificate'}
          </Action>
        )}
        {certificate && line.door === 'loopback' && (
          <Action keyName="s" onPress={save} disabled={busy}>
            Save a copy
          </Action>
        )}
        <Action keyName="p" onPress={() => goTo({ screen: 'run', run: number, view: 'print' })} disabled={busy}>
          Print the certificate
        </Action>
        {!isWritten && (
          <Action keyName="n" onPress={() => goTo({ screen: 'receive' })}>
            Receive the next lot
          </Action>
        )}
        {link.state === 'connected' && link.run === number && (
          <Action onPress={() => attempt(() => line.ask('release-meter', {}))}>Release the meter</Action>
        )}
      </div>
    </>
  );
}
