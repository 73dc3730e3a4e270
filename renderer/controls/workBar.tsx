import { useEffect, useState } from 'react';
import { progressWords } from '../../core/progress/progressWords.ts';
import type { LongWork } from '../station/useLongWork.ts';
import { Action } from './action.tsx';
import './workBar.css';

/** What is done sooner needs no bar; what takes longer shows one before anybody wonders. */
const SHOWN_MILLISECONDS = 200;

/** How far work is that takes its time, and the button that stops it; then what became of it. */
export function WorkBar(props: {
  work: Pick<LongWork, 'busy' | 'progress' | 'stopping' | 'stopped' | 'stop'>;
  /** What is being done, like `Writing the certificate`. */
  words: string;
  /** What holds where it was stopped, like `Stopped. No certificate was written.` */
  stoppedWords: string;
  /** Does it again where it was stopped and there is no other button for it. */
  again?: { words: string; press: () => void };
  /** Escape leads out of this screen, which stops it as well. */
  escapeLeaves?: boolean;
}) {
  const { busy, progress, stopping, stopped, stop } = props.work;
  const [since, setSince] = useState(false);
  useEffect(() => {
    if (!busy) return setSince(false);
    const due = setTimeout(() => setSince(true), SHOWN_MILLISECONDS);
    return () => clearTimeout(due);
  }, [busy]);
  const shown = busy && since;
  return (
    <>
      {/* Said when it begins and when it was stopped; the count changes too often to be read out. */}
      <p role="status" className="work-says">
        {shown ? `${stopping ? 'Stopping' : props.words} …` : stopped && props.stoppedWords}
      </p>
      {shown && (
        <div className="work-bar">
          <progress aria-label={props.words} max={progress?.of ?? 1} value={progress?.done ?? 0} />
          <span className="figures small">{progress && progressWords(progress)}</span>
          <Action onPress={stop} disabled={stopping} {...(!props.escapeLeaves && { keyName: 'Escape' })}>
            Stop
          </Action>
        </div>
      )}
      {stopped && props.again && (
        <div className="actions">
          <Action onPress={props.again.press}>{props.again.words}</Action>
        </div>
      )}
    </>
  );
}
