import { type ReactNode, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { Question } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { RadioField, TextField, TickField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import type { LongWork } from '../station/useLongWork.ts';
import { CheckForm } from './checkForm.tsx';
import type { CheckRow } from './checkRows.ts';
import { checkWords, isAutomatic, measuresTemperature, measuresVolts } from './checkWords.ts';
import { ReferenceCheck } from './referenceCheck.tsx';

/** What goes with the request for a check beside its name and who asks. */
export type CheckAsked = Pick<Question<'check-bench'>, 'celsius' | 'word' | 'waived' | 'reference'>;

interface Doing {
  run: Run;
  row: CheckRow;
  busy: boolean;
  onDo: (asked: CheckAsked, pressedAt: number) => void;
}

/** The check under work: what the hands must do now, and the key that does it. */
export function CheckNow(
  props: Doing & { work: LongWork; problem: Problem | null; onLeave: (() => void) | null; help: ReactNode },
) {
  const { run, row, busy } = props;
  const words = checkWords(run, row.check);
  const panel = useRef<HTMLDivElement>(null);

  // Hands are busy with probes: the key for the next check is ready without looking for it.
  useLayoutEffect(() => focusFirst(panel.current), []);
  useEffect(() => {
    panel.current?.closest('li')?.scrollIntoView({ block: 'nearest' });
  }, []);
  // A field that had the focus may be gone by now.
  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever a check begins or ends
  useLayoutEffect(() => {
    if (document.activeElement === document.body) focusFirst(panel.current);
  }, [busy]);

  const verb = row.stands === 'failed' ? `${words.verb} again` : words.verb;
  const shared = {
    ...props,
    // While it goes on, Escape stops it.
    leave: props.onLeave && !busy && <LeaveIt onLeave={props.onLeave} />,
    words: busy ? words.busy : verb,
  };
  return (
    <div ref={panel} className="check-now">
      {row.stands !== 'failed' ? (
        <>
          <p className="check-hands">{words.hands}</p>
          <p className="quiet">{words.shows}</p>
        </>
      ) : (
        !isAutomatic(row.check) && (
          <p className="check-hands">{`When that is done: ${words.hands.charAt(0).toLowerCase()}${words.hands.slice(1)}`}</p>
        )
      )}
      {row.check === 'reference' ? (
        <ReferenceCheck run={run} onDo={props.onDo}>
          {(without) => (
            <Buttons leave={shared.leave}>
              <Action primary submits notBySpace keyName="Enter" disabled={busy}>
                {without && !busy ? 'Waive this check' : shared.words}
              </Action>
            </Buttons>
          )}
        </ReferenceCheck>
      ) : row.check === 'ambient' ? (
        <AmbientCheck {...shared} />
      ) : row.check === 'no-voltage' && !measuresVolts(run) ? (
        <WordCheck {...shared} />
      ) : (
        <Buttons leave={shared.leave}>
          <Action primary notBySpace keyName="Enter" disabled={busy} onPress={(pressedAt) => props.onDo({}, pressedAt)}>
            {shared.words}
          </Action>
        </Buttons>
      )}
      <WorkBar
        work={props.work}
        words={words.busy.replace(/\s*…$/, '')}
        stoppedWords="Stopped. The check was not done."
      />
      <ProblemNotice problem={props.problem} />
      {props.help}
    </div>
  );
}

function focusFirst(panel: HTMLElement | null): void {
  const find = (selector: string) => panel?.querySelector<HTMLElement>(selector);
  const first = find('input[type=text], input[type=checkbox]') ?? find('input:checked') ?? find('.action-primary');
  first?.focus({ preventScroll: true });
}

function Buttons({ children, leave }: { children: ReactNode; leave: ReactNode }) {
  return (
    <div className="actions">
      {children}
      {leave}
    </div>
  );
}

function LeaveIt({ onLeave }: { onLeave: () => void }) {
  return (
    <Action keyName="Escape" onPress={onLeave}>
      Leave it as it is
    </Action>
  );
}

type FormProps = Doing & { words: string; leave: ReactNode };

/** The ambient temperature: typed from a thermometer, or read by the meter where it can. */
function AmbientCheck({ run, busy, onDo, words, leave }: FormProps) {
  const byMeter = measuresTemperature(run);
  const [how, setHow] = useState<'typed' | 'meter'>(byMeter && run.meter?.identity.simulated ? 'meter' : 'typed');
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  /** A temperature outside the band that was entered once: a slip of the pen must not make readings suspect. */
  const [doubted, setDoubted] = useState<string | null>(null);
  const celsius = celsiusOf(text);
  const typed = how === 'typed';
  const { lowest, highest } = run.checks.ambientCelsius;
  const isOutside = celsius !== null && (Number(celsius) < Number(lowest) || Number(celsius) > Number(highest));
  const fault = tried && celsius === null ? 'Write it like 23 or 22.5.' : undefined;
  const doubt =
    isOutside && doubted === celsius
      ? `${celsius} °C is outside ${lowest} to ${highest} °C. Enter it again if the thermometer says so.`
      : undefined;
  return (
    <CheckForm
      onSend={(pressedAt) => {
        setTried(true);
        if (!typed) onDo({}, pressedAt);
        else if (isOutside && doubted !== celsius) setDoubted(celsius);
        else if (celsius !== null) onDo({ celsius }, pressedAt);
      }}
    >
      {byMeter && (
        <RadioField
          legend="Temperature from"
          name="temperature"
          value={how}
          onChange={setHow}
          choices={[
            ['typed', 'a thermometer, typed'],
            ['meter', 'the meter and its sensor'],
          ]}
        />
      )}
      {typed && (
        <div className="check-fields">
          <TextField
            label="Ambient temperature, °C"
            name="celsius"
            value={text}
            onChange={setText}
            inputMode="decimal"
            problem={fault ?? doubt}
            required
          />
        </div>
      )}
      <Buttons leave={leave}>
        <Action primary submits notBySpace keyName="Enter" disabled={busy}>
          {!typed && !busy ? 'Read the temperature' : words}
        </Action>
      </Buttons>
    </CheckForm>
  );
}

/** Degrees Celsius as typed, the unit allowed; null where it is no such number. */
function celsiusOf(text: string): string | null {
  return /^(-?\d{1,3}(?:\.\d{1,3})?)\s*(?:°?\s*C)?$/i.exec(text.trim())?.[1] ?? null;
}

/** The operator's word where the meter measures no volts. It is asked for in full and recorded as a word. */
function WordCheck({ busy, onDo, words, leave }: FormProps) {
  const [ticked, setTicked] = useState(false);
  const [tried, setTried] = useState(false);
  return (
    <CheckForm
      onSend={(pressedAt) => {
        setTried(true);
        if (ticked) onDo({ word: true }, pressedAt);
      }}
    >
      <TickField checked={ticked} onChange={setTicked}>
        I looked: nothing at the fixture is supplied or live, and stored energy was discharged. This was not measured.
      </TickField>
      {tried && !ticked && (
        <p className="field-problem" role="alert">
          Tick it only if you looked. Without it this check is not done.
        </p>
      )}
      <Buttons leave={leave}>
        <Action primary submits notBySpace keyName="Enter" disabled={busy}>
          {words}
        </Action>
      </Buttons>
    </CheckForm>
  );
}
