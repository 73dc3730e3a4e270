import { useRef, useState } from 'react';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { remember, remembered } from '../theme/remembered.ts';

/** Where the meter of the run is; the simulated bench lays the wiring of the list, with faults or without. */
export function ConnectWiring({ number, run }: { number: number; run: ContinuityRun }) {
  const { line, up, link, wiringLink } = useStation();
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
      <TextField
        label="Address of the meter"
        name="address"
        value={address}
        onChange={setAddress}
        machine
        autoFocus
        problem={tried && address.trim() === '' ? 'Write the address of the meter.' : undefined}
        hint="/dev/ttyUSB0, COM3 or tcp://192.0.2.7:5025, with settings of the line behind it; sim: is the simulated bench"
      />
      {link.state !== 'none' && (
        <p>
          <strong>Run {link.run} has a meter connected.</strong> It is disconnected for this, and the bench of that run
          is checked again before its next reading.
        </p>
      )}
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
