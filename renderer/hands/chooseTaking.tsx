import { type FormEvent, useLayoutEffect, useRef, useState } from 'react';
import { captureWords } from '../../core/capture/captureWords.ts';
import { settingFor } from '../../core/capture/setting.ts';
import type { CaptureOverrides } from '../../core/contract/live.ts';
import type { Run } from '../../core/inspection/run.ts';
import { Action } from '../controls/action.tsx';
import { RadioField, TextField } from '../controls/field.tsx';
import { KeyDialog } from '../controls/keyDialog.tsx';
import { PARAMETERS, parameterTexts, readParameters, rememberOverrides } from './captureSetting.ts';
import { LearnSwitch } from './learnSwitch.tsx';
import { TAKEN_BY_HINTS, TAKEN_BY_WORDS, type TakenBy } from './takenBy.ts';
import './chooseTaking.css';

/** How readings are taken, and what that is set to. */
export interface Taking {
  by: TakenBy;
  overrides: CaptureOverrides;
}

/** How readings are taken, behind the word `Readings`: short, since it stands among the actions of every piece. */
const READINGS_WORDS: Record<TakenBy, string> = { key: 'by key', hands: 'hands-free', trigger: 'by trigger' };

const CHOICES: readonly TakenBy[] = ['key', 'hands', 'trigger'];

/**
 * Shows how readings are taken, and lets somebody take them otherwise. What is captured pauses while its dialog is open.
 * @param words every parameter of the capture that is on, in words
 * @param jobKeys keys that do another part of the job on this screen: the foot switch can't be one of them
 */
export function ChooseTaking(props: {
  taking: Taking;
  run: Run;
  words: readonly string[];
  jobKeys: readonly string[];
  onChange: (taking: Taking) => void;
  onClosed: () => void;
}) {
  const { taking } = props;
  return (
    <KeyDialog
      keyName="m"
      words={<>Readings {READINGS_WORDS[taking.by]}</>}
      labelledBy="taking-title"
      className="taking"
      onClosed={props.onClosed}
    >
      {(close) => (
        <TakingForm
          taking={taking}
          run={props.run}
          words={props.words}
          jobKeys={props.jobKeys}
          onClose={close}
          onChosen={(chosen) => {
            props.onChange(chosen);
            close();
          }}
        />
      )}
    </KeyDialog>
  );
}

function TakingForm(props: {
  taking: Taking;
  run: Run;
  words: readonly string[];
  jobKeys: readonly string[];
  onChosen: (taking: Taking) => void;
  onClose: () => void;
}) {
  const [by, setBy] = useState(props.taking.by);
  const [texts, setTexts] = useState(() => parameterTexts(props.taking.overrides));
  const [tried, setTried] = useState(false);
  const { overrides, wrong } = readParameters(texts);
  // What is on says it best; what is being typed is worked out here.
  const isOn = props.words.length > 0 && JSON.stringify(overrides) === JSON.stringify(props.taking.overrides);
  const words = isOn ? props.words : captureWords(settingFor(props.run, overrides));
  const form = useRef<HTMLFormElement>(null);
  // The dialog was open before its form was there.
  useLayoutEffect(() => form.current?.querySelector<HTMLInputElement>('input:checked')?.focus(), []);

  function choose(event: FormEvent) {
    event.preventDefault();
    setTried(true);
    if (wrong.length > 0) return;
    rememberOverrides(overrides);
    props.onChosen({ by, overrides });
  }

  return (
    <form ref={form} className="dialog-words taking-form" noValidate onSubmit={choose}>
      <h2 id="taking-title">How readings are taken</h2>
      <RadioField<TakenBy>
        legend="Who says when"
        name="taken-by"
        value={by}
        onChange={setBy}
        choices={CHOICES.map((choice) => [
          choice,
          <>
            <strong>{TAKEN_BY_WORDS[choice]}.</strong> <span className="quiet">{TAKEN_BY_HINTS[choice]}</span>
          </>,
        ])}
      />
      {by === 'hands' && (
        <>
          <p className="small">
            A piece that is open: tap the tips together twice, or press O or the foot switch, then hold the piece on the
            probes until it sounds.
          </p>
          <section aria-labelledby="taking-words">
            <h3 id="taking-words">How it decides</h3>
            <ul className="taking-list">
              {words.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
          </section>
          <details open={Object.keys(props.taking.overrides).length > 0}>
            <summary>Set it otherwise</summary>
            <div className="taking-parameters">
              {PARAMETERS.map(({ name, label, usual, lowest, highest }) => (
                <TextField
                  key={name}
                  label={label}
                  value={texts[name]}
                  onChange={(text) => setTexts({ ...texts, [name]: text })}
                  inputMode="decimal"
                  hint={`Empty: ${usual}. From ${lowest} to ${highest}.`}
                  problem={tried && wrong.includes(name) ? `Write a number from ${lowest} to ${highest}.` : undefined}
                />
              ))}
            </div>
          </details>
        </>
      )}
      <LearnSwitch jobKeys={props.jobKeys} />
      <div className="actions">
        <Action primary submits keyName="Enter">
          Take them so
        </Action>
        <button type="button" className="action" onClick={props.onClose}>
          <span>Leave it as it is</span>
          <span className="key" aria-hidden="true">
            Esc
          </span>
        </button>
      </div>
    </form>
  );
}
