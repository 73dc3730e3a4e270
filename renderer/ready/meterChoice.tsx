import { useCallback, useEffect, useState } from 'react';
import type { SerialPortFound } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { remember, remembered } from '../theme/remembered.ts';

const SIMULATED = 'sim:';
const TYPED = 'typed';

/** Choosing the meter: the simulated bench, a serial port of this computer, or an address that is typed. */
export function MeterChoice(props: { number: number; known: string | null; onConnected: () => void }) {
  const { line, up, link } = useStation();
  const first = props.known ?? remembered('address') ?? SIMULATED;
  const [ports, setPorts] = useState<readonly SerialPortFound[] | null>(null);
  const [choice, setChoice] = useState(first === SIMULATED ? SIMULATED : TYPED);
  const [typed, setTyped] = useState(first === SIMULATED ? '' : first);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const [tried, setTried] = useState(false);

  const look = useCallback(() => {
    setPorts(null);
    line.ask('list-ports', {}).then(setPorts, (thrown) => {
      setPorts([]);
      setProblem(asProblem(thrown));
    });
  }, [line]);
  useEffect(() => {
    if (up) look();
  }, [up, look]);

  async function connect() {
    const address = choice === TYPED ? typed.trim() : choice;
    setProblem(null);
    setTried(true);
    if (address === '') return;
    setBusy(true);
    try {
      await line.ask('connect-meter', { run: props.number, address });
      remember('address', address);
      props.onConnected();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  const choices: [value: string, words: string, more: string][] = [
    [SIMULATED, 'Simulated bench', 'sim: a meter and a lot that are only computed, to learn and to try'],
    ...(ports ?? []).map((port): [string, string, string] => [
      port.path,
      'Serial port',
      `${port.path} ${port.description}`,
    ]),
    [TYPED, 'Another address', 'a serial port’s path, or tcp://host:port'],
  ];

  return (
    <form
      className="ready-choice"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        if (!busy) connect();
      }}
    >
      <fieldset>
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
      {choice === TYPED && (
        <TextField
          label="Address"
          name="address"
          value={typed}
          onChange={setTyped}
          machine
          problem={tried && typed.trim() === '' ? 'Write the address of the meter.' : undefined}
          hint="/dev/ttyUSB0, COM3, tcp://192.0.2.7:5025. A serial port is opened at 9600 baud; for another rate write COM3?baud=19200"
        />
      )}
      <p className="quiet small" aria-live="polite">
        {ports === null
          ? 'Looking for serial ports…'
          : ports.length === 0
            ? 'No serial port was found on this computer.'
            : ''}
      </p>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action primary submits keyName="Enter" disabled={busy}>
          {busy || link.state === 'connecting' ? 'Connecting…' : 'Connect the meter'}
        </Action>
        <Action onPress={look}>Look for ports again</Action>
      </div>
    </form>
  );
}
