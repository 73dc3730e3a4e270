import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField, TickField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { goTo, hashOf } from '../route.ts';
import { startClosedTone, stopClosedTone } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { useFeed } from '../station/useFeed.ts';
import { remember, remembered } from '../theme/remembered.ts';
import { readClosedBelow, USUAL_CLOSED_BELOW } from './closedBelow.ts';
import { CONTINUITY_CAUTIONS } from './continuityCautions.ts';
import { ContinuityShown } from './continuityShown.tsx';
import { MeterAddress, TakenFromRun } from './meterAddress.tsx';
import './continuityScreen.css';

/** Continuity of wires and contacts, without a run: a tone while closed, silence while open. */
export default function ContinuityScreen() {
  const { line, up, continuity } = useStation();
  const on = useFeed(continuity, (now) => now?.on === true);
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    document.title = 'Continuity · Reelohm';
    if (document.activeElement === document.body) heading.current?.focus();
    // The focus is on the box below the cautions; they are to be read first, however small the screen.
    window.scrollTo(0, 0);
  }, []);

  // The tone follows the news itself, so that no drawing delays it.
  useEffect(() => {
    const sound = () => {
      const now = continuity.latest;
      if (now?.on && now.closed) startClosedTone();
      else stopClosedTone();
    };
    sound();
    const stop = continuity.listen(sound);
    return () => {
      stop();
      stopClosedTone();
    };
  }, [continuity]);

  // Nobody watches it any more.
  useEffect(
    () => () => {
      line.ask('stop-continuity', {}).catch(() => undefined);
    },
    [line],
  );

  return (
    <main className="continuity">
      <h1 ref={heading} tabIndex={-1}>
        Continuity
      </h1>
      {on ? (
        <ContinuityShown onStop={() => line.ask('stop-continuity', {}).catch(() => undefined)} />
      ) : (
        <Begin up={up === true} />
      )}
    </main>
  );
}

/** Which meter, what counts as closed, and the cautions. */
function Begin({ up }: { up: boolean }) {
  const { line, continuity } = useStation();
  const [address, setAddress] = useState(remembered('continuity-address') ?? remembered('address') ?? 'sim:');
  const [closedBelow, setClosedBelow] = useState(remembered('closed-below') ?? USUAL_CLOSED_BELOW);
  const [sure, setSure] = useState(false);
  const [tried, setTried] = useState(false);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(() => {
    const last = continuity.latest;
    return last?.on === false ? (last.why ?? null) : null;
  });
  const stopped = useRef(false);
  const read = readClosedBelow(closedBelow);

  async function begin() {
    setTried(true);
    if (!sure || address.trim() === '' || 'wrong' in read || busy) return;
    stopped.current = false;
    setProblem(null);
    setBusy(true);
    try {
      await line.ask('start-continuity', { address: address.trim(), closedBelowOhms: read.ohms });
      remember('continuity-address', address.trim());
      remember('closed-below', closedBelow);
    } catch (thrown) {
      if (!stopped.current) setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  function stopConnecting() {
    stopped.current = true;
    line.ask('stop-continuity', {}).catch((thrown) => setProblem(asProblem(thrown)));
  }

  return (
    <form
      className="continuity-begin"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        begin();
      }}
    >
      <p>
        A tone sounds for as long as the probes close a circuit; silence is open. No lot is inspected and nothing goes
        into the record. A list of points with a record and a certificate is a{' '}
        <a href={hashOf({ screen: 'wiring' })}>continuity run</a>.
      </p>
      <section aria-labelledby="continuity-before">
        <h2 id="continuity-before">Before the probes touch anything</h2>
        <ul className="continuity-cautions">
          {CONTINUITY_CAUTIONS.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
        <TickField checked={sure} onChange={setSure} autoFocus>
          I have made sure of this.
        </TickField>
        {tried && !sure && (
          <p className="field-problem" role="alert">
            The cautions are not confirmed yet.
          </p>
        )}
      </section>
      <div className="continuity-fields">
        <MeterAddress address={address} onChange={setAddress} tried={tried} />
        <TextField
          label="Closed below"
          name="closed-below"
          value={closedBelow}
          onChange={setClosedBelow}
          problem={tried && 'wrong' in read ? read.wrong : undefined}
          hint={'Common practice for wires and contacts: 10\u00a0ohm, the leads included.'}
        />
      </div>
      <TakenFromRun />
      <p role="status" className="work-says">
        {!busy && stopped.current && 'Stopped. No meter is connected.'}
      </p>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action primary submits keyName="Enter" disabled={busy || !up}>
          {busy ? 'Connecting…' : 'Watch continuity'}
        </Action>
        {busy && (
          <Action keyName="Escape" onPress={stopConnecting}>
            Stop connecting
          </Action>
        )}
        <Action {...(!busy && { keyName: 'Escape' })} onPress={() => goTo({ screen: 'runs' })}>
          Back
        </Action>
      </div>
    </form>
  );
}
