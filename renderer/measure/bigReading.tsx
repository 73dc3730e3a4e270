import type { ReactNode } from 'react';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { deviationText, readingText, showReading, windowText } from '../words/ohms.ts';

/** Why there is no verdict: said in its place. */
export interface Trouble {
  title: string;
  what: string;
  toDo: string;
  /** What can be done about it at once. */
  action?: ReactNode;
}

/** So many characters of a reading fit at full size; a longer one is written smaller, the verdict stays in its place. */
const FULL_SIZE_CHARACTERS = 7;

/**
 * The last reading in very large figures with its verdict. A reading that did not count, or one that is being taken,
 * puts it away at once: no figure and no verdict may be taken for those of the piece on the probes.
 * @param shown the reading to be shown; undefined when the next piece has to come first
 * @param again the next piece was measured before and voided
 */
export function BigReading(props: {
  run: Run;
  shown: Reading | undefined;
  /** Number of the piece that is being read. */
  reading: number | null;
  trouble: Trouble | null;
  next: number;
  again: boolean;
}) {
  const { run, shown, reading, trouble, next, again } = props;
  return (
    <section
      className={`reading ${trouble ? 'reading-trouble' : ''} ${reading === null ? '' : 'reading-busy'}`}
      aria-label="Reading"
    >
      <p className="unseen" role="status" aria-atomic="true">
        {shown &&
          !trouble &&
          `Piece ${shown.piece}: ${VERDICT_WORDS[shown.verdict]}, ${readingText(shown, run.window)}`}
      </p>
      {reading !== null && <p className="reading-words reading-word reading-under-way">Reading piece {reading} …</p>}
      {trouble ? (
        <div className="reading-words" role="alert">
          <h2 className="reading-word">{trouble.title}</h2>
          <p>
            {trouble.what.replace(/\.$/, '')}. {trouble.toDo}
          </p>
          {trouble.action}
        </div>
      ) : shown ? (
        <Counted reading={shown} run={run} />
      ) : (
        <p className="reading-words reading-word">
          Put piece {next} on the probes{again ? ' once more' : ''}, then take its reading.
        </p>
      )}
    </section>
  );
}

function Counted({ reading, run }: { reading: Reading; run: Run }) {
  const { ohms, raw, verdict } = reading;
  const shown = ohms === null ? null : showReading({ ohms, raw }, run.window);
  const size = shown ? Math.min(1, FULL_SIZE_CHARACTERS / shown.figures.length) : 1;
  return (
    <>
      <div className="reading-figure">
        <p className="reading-of">Piece {reading.piece}</p>
        <p className="reading-value" style={{ fontSize: `calc(var(--figures) * ${size.toFixed(3)})` }}>
          {shown ? (
            <>
              {shown.figures}
              <span className="reading-unit">{shown.unit}</span>
            </>
          ) : (
            'overload'
          )}
        </p>
      </div>
      <div className={`reading-verdict verdict-words-${verdict}`} key={reading.reading}>
        <VerdictMark verdict={verdict} />
        <div>
          <p className="reading-word">{VERDICT_WORDS[verdict]}</p>
          <p className="reading-why">
            {ohms === null
              ? 'nothing conducts, or far beyond the range'
              : (deviationText(ohms, run.window) ?? `window: ${windowText(run.window)}`)}
          </p>
        </div>
      </div>
    </>
  );
}
