import { useRef, useState } from 'react';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { MeterAddress, TakenFromRun } from '../continuity/meterAddress.tsx';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { remember, remembered } from '../theme/remembered.ts';

/** Where the meter of the run is; the simulated bench lays the wiring of the list, with faults or without. */
export function ConnectWiring({ number, run }: { number: number; run: ContinuityRun }) {
  const { line, up, wiringLink } = useStation();
  const [address, setAddress] = useState(
    run.meter?.address || (remembered('continuity-address') ?? remembered('address') ?? 'sim:'),
  );
  const [busy, setBusy] = useState(false);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  const stopped = useRef(false);
  const lost = wiringLink.state === 'lost' && wiringLink.run === number ? wiringLink.why : null;

  async function connect() {
    setTried(true);
    if (address.trim() === '' || busy) return;
    stopped.current = false;
    setProblem(null);
    setBusy(true);
    try {
      await line.ask('connect-continuity', { run: number, address: address.trim() });
      remember('continuity-address', address.trim());
    } catch (thrown) {
      if (!stopped.current) setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  return (
    <form
      className="wiring-step"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        connect();
      }}
    >
      {lost && !problem && (
        <p role="alert">
          <strong>The meter was lost: {lost.what}.</strong> Connect it again; the leads are checked anew then.
        </p>
      )}
      <MeterAddress address={address} onChange={setAddress} tried={tried} autoFocus />
      <TakenFromRun />
      <p role="status" className="work-says">
        {!busy && stopped.current && 'Stopped. No meter is connected.'}
      </p>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action primary submits keyName="Enter" disabled={busy || up !== true}>
          {busy ? 'Connecting…' : 'Connect the meter'}
        </Action>
        {busy && (
          <Action
            keyName="Escape"
            onPress={() => {
              stopped.current = true;
              line.ask('release-continuity', {}).catch((thrown) => setProblem(asProblem(thrown)));
            }}
          >
            Stop connecting
          </Action>
        )}
      </div>
    </form>
  );
}
