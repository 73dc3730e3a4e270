import { useId, useState, useSyncExternalStore } from 'react';
import { Action } from './controls/action.tsx';
import { RadioField, TickField } from './controls/field.tsx';
import { onSoundChange, play, setSoundVolume, soundVolume } from './sound/player.ts';
import type { SoundName } from './sound/sounds.ts';
import { canSpeak, onVoices, setSpeech, speechIsOn } from './sound/speech.ts';
import {
  type Appearance,
  applyAppearance,
  applyContrast,
  type Contrast,
  chosenAppearance,
  chosenContrast,
} from './theme/appearance.ts';
import './soundAndLook.css';

const SAMPLES: [SoundName, string][] = [
  ['contact', 'Contact: one tick'],
  ['heard', 'Heard, “open”: two ticks'],
  ['pass', 'Pass: one short'],
  ['conditional-pass', 'Conditional pass: one long'],
  ['fail', 'Fail: two short'],
  ['conditional-fail', 'Conditional fail: short, long'],
  ['open', 'Open: long, short'],
  ['trouble', 'Trouble: three low'],
];

/** How loud, whether spoken, how light and how much contrast. Behind a button in the head of every screen. */
export function SoundAndLook() {
  const id = useId();
  return (
    <>
      <button type="button" className="action sound-and-look-button" popoverTarget={id}>
        Sound and look
      </button>
      <div id={id} popover="auto" className="sound-and-look">
        <Sound id={id} />
        <Speech />
        <Look />
      </div>
    </>
  );
}

function Sound({ id }: { id: string }) {
  const volume = useSyncExternalStore(onSoundChange, soundVolume);
  return (
    <>
      <div className="field">
        <label htmlFor={`${id}-volume`}>Sound: {volume === 0 ? 'off' : `${volume} %`}</label>
        <input
          id={`${id}-volume`}
          type="range"
          min={0}
          max={100}
          step={10}
          value={volume}
          onChange={(event) => setSoundVolume(Number(event.target.value))}
        />
      </div>
      <fieldset>
        <legend>Listen to</legend>
        <div className="sound-and-look-samples">
          {SAMPLES.map(([name, words]) => (
            <Action key={name} onPress={() => play(name)} disabled={volume === 0}>
              {words}
            </Action>
          ))}
        </div>
      </fieldset>
    </>
  );
}

/** Speech, where this computer has a voice of its own: no word of a reading is sent to anybody's server. */
function Speech() {
  const [on, setOn] = useState(speechIsOn);
  const possible = useSyncExternalStore(onVoices, canSpeak);
  if (!possible) {
    return (
      <p className="small quiet">
        Readings cannot be spoken: this computer has no English voice of its own. Install one in the computer’s settings
        for speech, then open this page again.
      </p>
    );
  }
  return (
    <TickField
      checked={on}
      onChange={(to) => {
        setOn(to);
        setSpeech(to);
      }}
    >
      Speak verdict and value of each reading
    </TickField>
  );
}

function Look() {
  const [appearance, setAppearance] = useState(chosenAppearance);
  const [contrast, setContrast] = useState(chosenContrast);
  return (
    <>
      <RadioField<Appearance>
        legend="Look"
        name="appearance"
        value={appearance}
        onChange={(to) => {
          setAppearance(to);
          applyAppearance(to);
        }}
        choices={[
          ['system', 'As the computer'],
          ['light', 'Light'],
          ['dark', 'Dark'],
        ]}
      />
      <RadioField<Contrast>
        legend="Contrast, in light as in dark"
        name="contrast"
        value={contrast}
        onChange={(to) => {
          setContrast(to);
          applyContrast(to);
        }}
        choices={[
          ['system', 'As the computer'],
          ['usual', 'Usual'],
          ['more', 'More contrast'],
        ]}
      />
    </>
  );
}
