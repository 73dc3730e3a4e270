import { useCallback, useEffect, useRef, useState } from 'react';
import type { SerialPortFound } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { remember, remembered } from '../theme/remembered.ts';
import { kindOf, whereOf } from './address.ts';
import { FindMeter } from './findMeter.tsx';
import { LineSettings } from './lineSettings.tsx';
import './meterChoice.css';

const SIMULATED = 'sim:';
const TYPED = 'typed';

/** Choosing the meter: the simulated bench, a serial port of this computer, or an address that is typed. */
export function MeterChoice(props: { number: number; known: string | null; onConnected: () => void }) {
  const { line, up, link } = useStation();
  const first = props.known ?? remembered('address') ?? SIMULATED;
  const [ports, setPorts] = useState<readonly SerialPortFound[] | null>(null);
  const [choice, setChoice] = useState(first === SIMULATED ? SIMULATED : TYPED);
  /** The address as it stands for each choice, settings and all, so that none is lost by looking at another. */
  const [addresses, setAddresses] = useState<Record<string, string>>(first === SIMULATED ? {} : { [TYPED]: first });
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const [finding, setFinding] = useState(false);
  const stopped = useRef(false);
  const [tried, setTried] = useState(false);

  const address = (addresses[choice] ?? (choice === TYPED ? '' : choice)).trim();
  const setAddress = (text: string) => setAddresses((before) => ({ ...before, [choice]: text }));
  const serial = kindOf(address) === 'serial';

  const look = useCallback(() => {
    setPorts(null);
    line.ask('list-ports', {}).then(
      (found) => {
        setPorts(found);
        // What was typed or remembered is one of these ports: it is shown as that one.
        const path = whereOf(first);
        if (!found.some((port) => port.path === path)) return;
        setAddresses((before) => ({ [path]: first, ...before }));
        setChoice((before) => (before === TYPED ? path : before));
      },
      (thrown) => {
        setPorts([]);
        setProblem(asProblem(thrown));
      },
    );
  }, [line, first]);
  useEffect(() => {
    if (up) look();
  }, [up, look]);

  async function connect() {
    stopped.current = false;
    setProblem(null);
    setTried(true);
    if (address === '') return;
    setBusy(true);
    try {
      await line.ask('connect-meter', { run: props.number, address });
      remember('address', address);
      props.onConnected();
    } catch (thrown) {
      if (!stopped.current) setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  function stopConnecting() {
    stopped.current = true;
    line.ask('release-meter', {}).catch((thrown) => setProblem(asProblem(thrown)));
  }

  const choices: [value: string, words: string, more: string][] = [
    [SIMULATED, 'Simulated bench', 'a meter and a reel that are only computed, to learn and to try'],
    ...(ports ?? []).map((port): [string, string, string] => [
      port.path,
      'Serial port',
      `${port.path} ${port.description}`,
    ]),
    [TYPED, 'Another address', 'a meter on the network, or a port that is not listed'],
  ];

  return (
    <form
      className="ready-choice"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        if (!busy && !finding) connect();
      }}
    >
      <fieldset disabled={finding}>
        <legend>Which meter measures this lot?</legend>
        {choices.map(([value, words, more]) => (
          <label key={value} className="ready-option">
            <input
              type="radio"
              name="meter"
              value={value}
              checked={choice === value}
              onChange={() => setChoice(value)}
              // biome-ignore lint/a11y/noAutofocus: the step begins here, hands are on the keyboard
              autoFocus={choice === value}
            />
            <span>
              <strong>{words}</strong> <span className="quiet">{more}</span>
            </span>
          </label>
        ))}
      </fieldset>
      {choice !== SIMULATED && (
        <TextField
          label="Address"
          name="address"
          value={addresses[choice] ?? (choice === TYPED ? '' : choice)}
          onChange={setAddress}
          machine
          problem={tried && address === '' ? 'Write the address of the meter.' : undefined}
          hint={
            choice === TYPED
              ? '/dev/ttyUSB0, COM3, tcp://192.0.2.7:5025. What is set below is written behind it.'
              : 'What is set below is written behind the port.'
          }
        />
      )}
      {serial && <FindMeter key={whereOf(address)} path={whereOf(address)} onFound={setAddress} onBusy={setFinding} />}
      {choice !== SIMULATED && address !== '' && <LineSettings address={address} onChange={setAddress} />}
      <p className="quiet small" aria-live="polite">
        {ports === null
          ? 'Looking for serial ports…'
          : ports.length === 0
            ? 'No serial port was found on this computer.'
            : ''}
      </p>
      <p role="status" className="work-says">
        {!busy && stopped.current && 'Stopped. No meter is connected.'}
      </p>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action primary submits keyName="Enter" disabled={busy || finding}>
          {busy || link.state === 'connecting' ? 'Connecting…' : 'Connect the meter'}
        </Action>
        {busy && (
          <Action keyName="Escape" onPress={stopConnecting}>
            Stop connecting
          </Action>
        )}
        <Action onPress={look} disabled={finding}>
          Look for ports again
        </Action>
      </div>
    </form>
  );
}
