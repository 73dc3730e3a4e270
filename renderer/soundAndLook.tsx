import { useId, useState } from 'react';
import { Action } from './controls/action.tsx';
import { RadioField } from './controls/field.tsx';
import { play, setSoundVolume, soundVolume } from './sound/player.ts';
import type { SoundName } from './sound/sounds.ts';
import { type Appearance, applyAppearance, chosenAppearance } from './theme/appearance.ts';
import './soundAndLook.css';

const SAMPLES: [SoundName, string][] = [
  ['pass', 'Pass: one short'],
  ['conditional-pass', 'Conditional pass: one long'],
  ['fail', 'Fail: two short'],
  ['conditional-fail', 'Conditional fail: short, long'],
  ['open', 'Open: long, short'],
  ['trouble', 'Trouble: three low'],
];

/** How loud and how light. Behind a button in the head of every screen. */
export function SoundAndLook() {
  const id = useId();
  const [volume, setVolume] = useState(soundVolume);
  const [appearance, setAppearance] = useState(chosenAppearance);

  return (
    <>
      <button type="button" className="action sound-and-look-button" popoverTarget={id}>
        Sound and look
      </button>
      <div id={id} popover="auto" className="sound-and-look">
        <div className="field">
          <label htmlFor={`${id}-volume`}>Sound: {volume === 0 ? 'off' : `${volume} %`}</label>
          <input
            id={`${id}-volume`}
            type="range"
            min={0}
            max={100}
            step={10}
            value={volume}
            onChange={(event) => {
              const to = Number(event.target.value);
              setVolume(to);
              setSoundVolume(to);
            }}
          />
        </div>
        <fieldset>
          <legend>Listen to</legend>
          <div className="actions">
            {SAMPLES.map(([name, words]) => (
              <Action key={name} onPress={() => play(name)} disabled={volume === 0}>
                {words}
              </Action>
            ))}
          </div>
        </fieldset>
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
      </div>
    </>
  );
}
