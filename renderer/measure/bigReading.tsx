import type { ReactNode } from 'react';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { certainDigits } from '../words/certainDigits.ts';
import { deviationText, readingText, showReading, windowText } from '../words/ohms.ts';
import { probabilityText } from '../words/probability.ts';
import { capital } from '../words/sentence.ts';
import { pieceName, pieceOnProbes } from '../words/turn.ts';
import { uncertaintyText, wrongOf } from '../words/uncertainty.ts';

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

/** A verdict that is wrong less often than this is not worth a word. Our choice. */
const WRONG_WORTH_SAYING = 0.001;

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
  const { plan } = run;
  return (
    <section
      className={`reading ${trouble ? 'reading-trouble' : ''} ${reading === null ? '' : 'reading-busy'}`}
      aria-label="Reading"
    >
      <p className="unseen" role="status" aria-atomic="true">
        {shown && !trouble && spoken(run, shown)}
      </p>
      {reading !== null && (
        <p className="reading-words reading-word reading-under-way">Reading {pieceOnProbes(plan, reading)} …</p>
      )}
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
          Put {pieceOnProbes(plan, next)} on the probes{again ? ' once more' : ''}, then take its reading.
        </p>
      )}
    </section>
  );
}

function spoken({ plan, window }: Run, reading: Reading): string {
  const { piece, verdict } = reading;
  const value = readingText(reading, window);
  if (plan.choice.kind === 'study') return `${capital(pieceName(plan, piece))}. ${value}`;
  return `Piece ${piece}: ${VERDICT_WORDS[verdict]}, ${value}`;
}

function Counted({ reading, run }: { reading: Reading; run: Run }) {
  const { ohms, raw, uncertainty, verdict, piece } = reading;
  const shown = ohms === null ? null : showReading({ ohms, raw }, run.window);
  const digits = shown && certainDigits(shown, uncertainty?.expandedOhms ?? null);
  const size = shown ? Math.min(1, FULL_SIZE_CHARACTERS / shown.figures.length) : 1;
  const study = run.plan.choice.kind === 'study';
  return (
    <>
      <div className="reading-figure">
        <p className="reading-of">{study ? `Turn ${piece}` : `Piece ${piece}`}</p>
        <p className="reading-value" style={{ fontSize: `calc(var(--figures) * ${size.toFixed(3)})` }}>
          {shown && digits ? (
            <>
              {digits.certain}
              {digits.uncertain !== '' && <span className="reading-uncertain">{digits.uncertain}</span>}
              <span className="reading-unit">{shown.unit}</span>
            </>
          ) : (
            'overload'
          )}
        </p>
      </div>
      {/* How the value stands must not lead the operator of a study. */}
      {study ? (
        <div className="reading-verdict" key={reading.reading}>
          <p className="reading-word">Taken</p>
        </div>
      ) : (
        <div className={`reading-verdict verdict-words-${verdict}`} key={reading.reading}>
          <VerdictMark verdict={verdict} />
          <div>
            <p className="reading-word">{VERDICT_WORDS[verdict]}</p>
            <p className="reading-why">
              {ohms === null
                ? 'nothing conducts, or far beyond the range'
                : (deviationText(ohms, run.window) ?? `window: ${windowText(run.window)}`)}
            </p>
            {ohms !== null && <Doubt reading={reading} run={run} />}
          </div>
        </div>
      )}
    </>
  );
}

/** What the reading is worth, in a line or two under its verdict. */
function Doubt({ reading, run }: { reading: Reading; run: Run }) {
  const { uncertainty } = reading;
  const wrong = wrongOf(reading, run.window);
  return (
    <>
      <p className="reading-why">{uncertainty ? uncertaintyText(uncertainty) : 'uncertainty not known'}</p>
      {wrong !== null && wrong > WRONG_WORTH_SAYING && (
        <p className="reading-why">may be wrong: {probabilityText(wrong)}</p>
      )}
    </>
  );
}
