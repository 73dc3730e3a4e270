import { type Ref, useSyncExternalStore } from 'react';
import type { Window } from '../../core/window/window.ts';
import { LiveLevel } from '../charts/liveLevel.tsx';
import { onSoundChange, soundIsHeldBack } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { useFeed } from '../station/useFeed.ts';
import { phaseWords } from './phaseWords.ts';
import './phaseBanner.css';

/**
 * How the probes stand, large enough to be read from two metres, and what the hands do next. It draws itself anew with the
 * news and nothing around it; screen readers are not told each phase, the sounds are quicker.
 */
export function PhaseBanner(props: {
  /** The piece that is next. */
  next: number;
  /** Null where the level must not be shown: it would lead the operator of a study. */
  window: Window | null;
  /** The capture cannot go on: its words stand elsewhere. */
  ended: boolean;
  ref: Ref<HTMLElement>;
}) {
  const { live } = useStation();
  const starting = useFeed(live, (now) => now === null || (now.phase === 'off' && !props.ended));
  const large = useFeed(live, (now) => phaseWords(starting ? null : now, props.next).large);
  const toDo = useFeed(live, (now) => phaseWords(starting ? null : now, props.next).toDo);
  const phase = useFeed(live, (now) => (starting ? 'starting' : (now?.phase ?? 'starting')));
  const heldBack = useSyncExternalStore(onSoundChange, soundIsHeldBack);
  return (
    <section ref={props.ref} tabIndex={-1} className={`phase phase-${phase}`} aria-label="The probes">
      <div className="phase-words">
        <p className="phase-large">{large}</p>
        <p className="phase-to-do">
          {heldBack ? 'No sound yet: the browser waits until a key is pressed on this page.' : toDo}
        </p>
      </div>
      {props.window && <Level window={props.window} />}
    </section>
  );
}

/** Holds the news and nothing else, so that with each of them only this is drawn. */
function Level({ window }: { window: Window }) {
  const { live } = useStation();
  const now = useSyncExternalStore(live.listen, () => live.latest);
  return now && <LiveLevel window={window} live={now} />;
}
