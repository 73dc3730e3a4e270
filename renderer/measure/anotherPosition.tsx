import { useState } from 'react';
import { nextPiece, nextPosition, type Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { KeyDialog } from '../controls/keyDialog.tsx';
import { useStation } from '../station/station.tsx';
import { formatCount } from '../words/count.ts';
import { positionText } from '../words/position.ts';
import { problemWords } from '../words/problemWords.ts';
import { pieceOnProbes } from '../words/turn.ts';
import './voidReading.css';

/**
 * Says where along the reel the next piece is really taken, where that is not where it is asked for: the reading is kept with
 * it. Nothing where positions are not known.
 */
export function AnotherPosition(props: { number: number; run: Run; disabled: boolean; onClosed: () => void }) {
  const { number, run, disabled, onClosed } = props;
  if (nextPosition(run) === null) return null;
  return (
    <KeyDialog keyName="p" words="Another position" disabled={disabled} labelledBy="position-title" onClosed={onClosed}>
      {(close) => <PositionForm number={number} run={run} onDone={close} />}
    </KeyDialog>
  );
}

/** A position as typed, spaces between groups allowed; null where it is none. */
function positionOfText(text: string): number | null {
  const digits = text.replace(/\s/g, '');
  return /^\d{1,15}$/.test(digits) ? Number(digits) : null;
}

function PositionForm({ number, run, onDone }: { number: number; run: Run; onDone: () => void }) {
  const { line } = useStation();
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<Problem | null>(null);
  // Held fast: a reading that is counted while this is open must not hand what is said on to the piece behind it.
  const [piece] = useState(() => nextPiece(run));
  const size = run.lot.size;
  const now = nextPiece(run) === piece ? nextPosition(run) : null;
  const isSaid = run.said?.piece === piece;
  const typed = positionOfText(text);
  const wrong = tried && typed === null ? `A whole number from 1 to ${formatCount(size)}.` : undefined;

  async function say(position: number | null) {
    try {
      await line.ask('say-position', { run: number, position, piece });
      onDone();
    } catch (thrown) {
      setRefused(asProblem(thrown));
    }
  }

  return (
    <form
      className="dialog-words"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (typed !== null) say(typed);
      }}
    >
      <h2 id="position-title">Where do you take {pieceOnProbes(run.plan, piece)}?</h2>
      <p>
        {now !== null && `${isSaid ? 'You said' : 'It is asked for at'} ${positionText(now)}. `}
        Where a piece cannot be taken there, take one as near as you can, and say where it was. The certificate has
        both.
      </p>
      <TextField
        label={`Position, 1 to ${formatCount(size)}`}
        value={text}
        onChange={(value) => {
          setText(value);
          setRefused(null);
        }}
        inputMode="numeric"
        problem={wrong ?? (refused ? problemWords(refused) : undefined)}
        autoFocus
        required
      />
      <div className="actions">
        <Action primary submits keyName="Enter">
          Take it there
        </Action>
        {isSaid && <Action onPress={() => say(null)}>Back to where it was asked for</Action>}
        <button type="button" className="action" onClick={onDone}>
          <span>Leave it</span>
          <span className="key" aria-hidden="true">
            Esc
          </span>
        </button>
      </div>
    </form>
  );
}
