import { useEffect, useState } from 'react';
import type { Answers } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { ChoiceField, TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { kindOf, type SettingName, settingOf, withSetting } from './address.ts';

type Choices = readonly (readonly [value: string, words: string])[];

const BAUD_RATES = ['300', '1200', '2400', '4800', '9600', '19200', '38400', '57600', '115200', '230400'];
const ENDS: Choices = [
  ['lf', 'LF'],
  ['cr', 'CR'],
  ['crlf', 'CR LF'],
];

/** The settings of a line that are chosen from a list: those of a serial port, and those of any line. */
const SERIAL_CHOICES: readonly [name: SettingName, label: string, choices: Choices][] = [
  ['baud', 'Baud rate', BAUD_RATES.map((rate) => [rate, rate] as const)],
  [
    'bits',
    'Data bits',
    [
      ['8', '8'],
      ['7', '7'],
    ],
  ],
  [
    'parity',
    'Parity',
    [
      ['none', 'None'],
      ['even', 'Even'],
      ['odd', 'Odd'],
    ],
  ],
  [
    'stop',
    'Stop bits',
    [
      ['1', '1'],
      ['2', '2'],
    ],
  ],
  [
    'flow',
    'Flow control',
    [
      ['none', 'None'],
      ['rts', 'RTS/CTS'],
      ['xon', 'XON/XOFF'],
      ['dtr', 'DTR'],
    ],
  ],
];

const LINE_CHOICES: readonly [name: SettingName, label: string, choices: Choices][] = [
  ['out', 'Commands end with', ENDS],
  ['in', 'Answers end with', [['any', 'CR or LF, either'], ...ENDS]],
  [
    'echo',
    'Echo',
    [
      ['auto', 'Find out'],
      ['on', 'Meter echoes'],
      ['off', 'None'],
    ],
  ],
];

/** How the line of an address is set and which dialect its meter speaks, from the address and into it. */
export function LineSettings(props: { address: string; onChange: (address: string) => void }) {
  const { address, onChange } = props;
  const serial = kindOf(address) === 'serial';
  const field = (name: SettingName) => ({
    name,
    value: settingOf(address, name),
    onChange: (value: string) => onChange(withSetting(address, name, value)),
  });
  const choice = (name: SettingName, label: string, choices: Choices) => (
    <ChoiceField
      key={name}
      label={label}
      {...field(name)}
      choices={withOwn(choices, settingOf(address, name))}
      problem={
        isKnown(name, choices, settingOf(address, name)) ? undefined : 'The address says what is not known here.'
      }
    />
  );
  return (
    <details className="line-settings">
      <summary>
        Line settings <span className="quiet small">{inShort(address)}</span>
      </summary>
      <div className="line-settings-fields">
        {serial && SERIAL_CHOICES.map(([name, label, choices]) => choice(name, label, choices))}
        {LINE_CHOICES.map(([name, label, choices]) => choice(name, label, choices))}
        <TextField
          label="Delay between commands, ms"
          {...field('delay')}
          inputMode="numeric"
          problem={notWhole(settingOf(address, 'delay'), 0, 9999)}
        />
        <TextField
          label="Longest command, bytes"
          {...field('longest')}
          inputMode="numeric"
          hint="Empty: no limit known"
          problem={settingOf(address, 'longest') === '' ? undefined : notWhole(settingOf(address, 'longest'), 10, 9999)}
        />
      </div>
      <DialectChoice {...field('dialect')} />
    </details>
  );
}

/** The dialect of the meter: how it differs from plain SCPI, from those that ship and the user's own files. */
function DialectChoice(props: { value: string; onChange: (value: string) => void }) {
  const { line, up } = useStation();
  const [known, setKnown] = useState<Answers['dialects'] | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    if (!up) return;
    line.ask('dialects', {}).then(setKnown, (thrown) => setProblem(asProblem(thrown)));
  }, [line, up]);
  const choices = (known?.dialects ?? []).map(
    ({ name, title, own }) => [name, own ? `${title} (own file)` : title] as const,
  );
  return (
    <div className="line-settings-dialect">
      <ChoiceField
        label="Dialect of the meter"
        name="dialect"
        value={props.value}
        onChange={props.onChange}
        choices={withOwn(choices, props.value)}
        hint={known?.dialects.find(({ name }) => name === props.value)?.about}
      />
      <ProblemNotice problem={problem} />
      {known && known.problems.length > 0 && (
        <div className="line-settings-faults">
          <p>Files of your own that cannot be used:</p>
          <ul>
            {known.problems.map(({ what, toDo }) => (
              <li key={what}>
                <span className="machine">{what}</span>. {toDo}
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}

/** Any baud rate may be typed; of the others only those in the list are known. */
function isKnown(name: SettingName, choices: Choices, value: string): boolean {
  return name === 'baud' ? /^[1-9]\d{1,6}$/.test(value) : choices.some(([known]) => known === value);
}

/** A value that was typed into the address and is not in the list is kept in it. */
function withOwn(choices: Choices, value: string): Choices {
  return choices.some(([known]) => known === value) ? choices : [...choices, [value, value]];
}

function notWhole(text: string, least: number, most: number): string | undefined {
  const fits = /^\d{1,4}$/.test(text) && Number(text) >= least && Number(text) <= most;
  return fits ? undefined : `A whole number from ${least} to ${most}.`;
}

/** The settings in a few words: `9600 baud, 8 data bits, no parity, 1 stop bit, dialect scpi`. */
function inShort(address: string): string {
  const say = (name: SettingName) => settingOf(address, name);
  const parity = say('parity') === 'none' ? 'no parity' : `${say('parity')} parity`;
  const serial = [
    `${say('baud')} baud`,
    `${say('bits')} data bits`,
    parity,
    `${say('stop')} stop ${say('stop') === '1' ? 'bit' : 'bits'}`,
  ];
  return [...(kindOf(address) === 'serial' ? serial : []), `dialect ${say('dialect')}`].join(', ');
}
