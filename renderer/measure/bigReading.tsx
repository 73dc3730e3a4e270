import type { Reading, Run } from '../../core/inspection/run.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { deviationText, readingText, showReading } from '../words/ohms.ts';

/** Why there is no verdict: said in its place. */
export interface Trouble {
  title: string;
  what: string;
  toDo: string;
}

/**
 * The last reading in very large figures with its verdict. A reading that did not count, or one that is being taken,
 * puts it away at once: no figure and no verdict may be taken for those of the piece on the probes.
 */
export function BigReading(props: {
  run: Run;
  last: Reading | undefined;
  busy: boolean;
  trouble: Trouble | null;
  next: number;
}) {
  const { run, last, busy, trouble, next } = props;
  return (
    <section
      className={`reading ${trouble ? 'reading-trouble' : ''} ${busy ? 'reading-busy' : ''}`}
      aria-label="Reading"
    >
      {trouble ? (
        <div className="reading-words" role="alert">
          <h2 className="reading-word">{trouble.title}</h2>
          <p>
            {trouble.what.replace(/\.$/, '')}. {trouble.toDo}
          </p>
        </div>
      ) : last ? (
        <Counted reading={last} run={run} />
      ) : (
        <p className="reading-words reading-word">Put piece {next} on the probes, then take its reading.</p>
      )}
    </section>
  );
}

function Counted({ reading, run }: { reading: Reading; run: Run }) {
  const { ohms, raw, verdict } = reading;
  const shown = ohms === null ? null : showReading({ ohms, raw }, run.window);
  return (
    <>
      <p className="unseen" role="status" aria-atomic="true">
        Piece {reading.piece}: {VERDICT_WORDS[verdict]}, {readingText(reading, run.window)}
      </p>
      <div className="reading-figure">
        <p className="reading-of">Piece {reading.piece}</p>
        <p className="reading-value">
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
            {ohms === null ? 'nothing conducts, or far beyond the range' : deviationText(ohms, run.window)}
          </p>
        </div>
      </div>
    </>
  );
}
