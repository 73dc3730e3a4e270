import { useEffect, useRef, useState } from 'react';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { counted } from '../words/count.ts';

type Finding =
  | { state: 'idle' }
  | { state: 'looking'; tries: readonly string[] }
  | { state: 'stopped'; tries: readonly string[] }
  | { state: 'found'; address: string; identity: string };

/** Looks for a meter on one serial port with the settings that are common, shows what it tries, and can be stopped. */
export function FindMeter(props: {
  path: string;
  onFound: (address: string) => void;
  onBusy: (busy: boolean) => void;
}) {
  const { path, onFound, onBusy } = props;
  const { line } = useStation();
  const [finding, setFinding] = useState<Finding>({ state: 'idle' });
  const [problem, setProblem] = useState<Problem | null>(null);
  const looking = finding.state === 'looking';
  const stopped = useRef(false);

  useEffect(() => {
    if (!looking) return;
    return line.listen((news) => {
      if (news.kind !== 'finding' || news.path !== path) return;
      setFinding((now) => (now.state === 'looking' ? { ...now, tries: [...now.tries, news.trying] } : now));
    });
  }, [line, path, looking]);

  // Whoever goes elsewhere looks for this meter no longer.
  useEffect(() => {
    if (!looking) return;
    return () => {
      line.ask('stop-finding', {}).catch(() => undefined);
    };
  }, [line, looking]);

  async function find() {
    stopped.current = false;
    setProblem(null);
    setFinding({ state: 'looking', tries: [] });
    onBusy(true);
    try {
      const { address, identity } = await line.ask('find-meter', { path });
      setFinding({ state: 'found', address, identity });
      onFound(address);
    } catch (thrown) {
      setFinding((now) => ({ state: 'stopped', tries: now.state === 'looking' ? now.tries : [] }));
      if (!stopped.current) setProblem(asProblem(thrown));
    } finally {
      onBusy(false);
    }
  }

  function stop() {
    stopped.current = true;
    line.ask('stop-finding', {}).catch((thrown) => setProblem(asProblem(thrown)));
  }

  return (
    <section className="find-meter" aria-label="Find my meter">
      <div className="actions">
        {looking ? (
          <Action keyName="Escape" onPress={stop}>
            Stop looking
          </Action>
        ) : (
          <Action onPress={find}>Find my meter</Action>
        )}
        <p className="quiet small">
          Tries the common line settings. Only this port is opened, and only <span className="machine">*IDN?</span> is
          sent.
        </p>
      </div>
      <div aria-live="polite">
        {looking && <p>{finding.tries.length === 0 ? 'Opening the port …' : `Trying ${finding.tries.at(-1)} …`}</p>}
        {finding.state === 'stopped' && problem === null && (
          <p>Stopped after {counted(finding.tries.length, 'try', 'tries')}; no meter answered so far.</p>
        )}
        {finding.state === 'found' && (
          <p>
            <strong>Found:</strong> {finding.identity}. Its address is filled in.
          </p>
        )}
      </div>
      {(finding.state === 'looking' || finding.state === 'stopped') && finding.tries.length > 1 && (
        <details className="small">
          <summary>Everything that was tried</summary>
          <ol className="find-meter-tries">
            {finding.tries.map((trying) => (
              <li key={trying}>{trying}</li>
            ))}
          </ol>
        </details>
      )}
      <ProblemNotice problem={problem} />
    </section>
  );
}
