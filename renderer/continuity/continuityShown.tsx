import { useLayoutEffect, useRef, useSyncExternalStore } from 'react';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { Action } from '../controls/action.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { onSoundChange, soundIsHeldBack, soundVolume } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { useFeed } from '../station/useFeed.ts';

/** Closed or open, by word and shape, to be read from two metres; and what the meter reads. */
export function ContinuityShown({ onStop }: { onStop: () => void }) {
  const { continuity } = useStation();
  const closed = useFeed(continuity, (now) => now?.on === true && now.closed);
  const volume = useSyncExternalStore(onSoundChange, soundVolume);
  const heldBack = useSyncExternalStore(onSoundChange, soundIsHeldBack);
  const stop = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => stop.current?.focus(), []);
  return (
    <>
      <Watched />
      <section className="continuity-state" aria-label="Between the probes">
        <svg viewBox="-50 -50 100 100" aria-hidden="true" focusable="false" className="continuity-shape">
          <path d={closed ? 'M -46 0 H 46' : 'M -46 0 H -16 M 16 0 H 46'} />
          <circle cx="-40" r="9" />
          <circle cx="40" r="9" />
        </svg>
        <p className="continuity-word" role="status">
          {closed ? 'Closed' : 'Open'}
        </p>
        <Value />
      </section>
      {volume === 0 && <p>Sound is off: only this page tells. It is switched on under “Sound and look”.</p>}
      {heldBack && <p>No sound yet: the browser waits until a key is pressed on this page.</p>}
      <p className="quiet small">Closed or open never says that something is safe to touch.</p>
      <div className="actions">
        <Action ref={stop} primary keyName="Escape" onPress={onStop}>
          Stop
        </Action>
      </div>
    </>
  );
}

/** Which meter is watched, and what it takes for closed. */
function Watched() {
  const { continuity } = useStation();
  const simulated = useFeed(continuity, (now) => now?.on === true && now.simulated);
  const words = useFeed(continuity, (now) =>
    now?.on
      ? `${now.simulated ? 'Closed' : `Meter at ${now.address}, closed`} below ${formatOhms(now.closedBelowOhms).replace(' ', '\u00a0')}`
      : '',
  );
  return (
    <>
      {simulated && <SimulatedMark where="measure" />}
      <p className="quiet">{words}</p>
    </>
  );
}

/** What the meter reads, drawn by itself. */
function Value() {
  const { continuity } = useStation();
  const text = useFeed(continuity, (now) => {
    if (!now?.on) return '';
    return now.ohms === null ? 'overload' : formatOhms(now.ohms).replace(' ', '\u00a0');
  });
  return <p className="continuity-value figures">{text}</p>;
}
