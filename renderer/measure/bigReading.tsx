import type { Reading, Run } from '../../core/inspection/run.ts';
import type { ProblemText } from '../../core/problem/problem.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { deviationText, readingText, showReading } from '../words/ohms.ts';

/**
 * The last reading in very large figures with its verdict. A reading that did not count, or one that is being taken,
 * puts it away at once: no figure and no verdict may be taken for those of the piece on the probes.
 */
export function BigReading(props: {
  run: Run;
  last: Reading | undefined;
  busy: boolean;
  trouble: ProblemText | null;
  next: number;
}) {
  const { run, last, busy, trouble } = props;
  if (trouble) {
    return (
      <section className="reading reading-trouble" aria-label="Reading">
        <div className="reading-figure">
          <p className="reading-of">Piece {props.next}</p>
          <p className="reading-value reading-none" aria-hidden="true">
            - - - -
          </p>
        </div>
        <div className="reading-not-counted" role="alert">
          <p className="reading-word">Not counted</p>
          <p>
            {trouble.what}. {trouble.toDo}
          </p>
        </div>
      </section>
    );
  }
  if (!last) {
    return (
      <section className="reading" aria-label="Reading">
        <div className="reading-figure">
          <p className="reading-of">Nothing measured yet</p>
          <p className="reading-value reading-none" aria-hidden="true">
            - - - -
          </p>
        </div>
        <p className="reading-begin">Put piece {props.next} on the probes, then take its reading.</p>
      </section>
    );
  }
  const shown = last.ohms === null ? null : showReading({ ohms: last.ohms, raw: last.raw }, run.window);
  const deviation = last.ohms === null ? null : deviationText(last.ohms, run.window);
  return (
    <section className={busy ? 'reading reading-busy' : 'reading'} aria-label="Reading">
      <p className="unseen" role="status" aria-atomic="true">
        Piece {last.piece}: {VERDICT_WORDS[last.verdict]}, {readingText(last, run.window)}
      </p>
      <div className="reading-figure">
        <p className="reading-of">Piece {last.piece}</p>
        <p className="reading-value">
          {shown ? (
            <>
              {shown.figures}
              <span className="reading-unit">{shown.unit}</span>
            </>
          ) : (
            <span className="reading-overload">overload</span>
          )}
        </p>
      </div>
      <div className={`reading-verdict verdict-words-${last.verdict}`} key={last.reading}>
        <VerdictMark verdict={last.verdict} />
        <div>
          <p className="reading-word">{VERDICT_WORDS[last.verdict]}</p>
          <p className="reading-why">{last.ohms === null ? 'nothing conducts within the range' : deviation}</p>
        </div>
      </div>
    </section>
  );
}
