import { type ReactNode, useEffect, useRef } from 'react';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { capital } from '../../core/quantity/sentence.ts';
import type { Verdict } from '../../core/window/judge.ts';
import { isUnderWay } from '../hands/phaseWords.ts';
import { useStation } from '../station/station.tsx';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { certainDigits } from '../words/certainDigits.ts';
import { deviationText, readingText, showReading, windowText } from '../words/ohms.ts';
import { nextOnProbes, positionText } from '../words/position.ts';
import { probabilityText } from '../words/probability.ts';
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
 * @param handsFree readings are captured: a piece on the probes puts the last reading away as well
 */
export function BigReading(props: {
  run: Run;
  shown: Reading | undefined;
  /** Number of the piece that is being read. */
  reading: number | null;
  trouble: Trouble | null;
  next: number;
  again: boolean;
  handsFree: boolean;
}) {
  const { run, shown, reading, trouble, next, again, handsFree } = props;
  const { plan } = run;
  const section = useUnderWay(handsFree && trouble === null);
  return (
    <section
      ref={section}
      className={`reading ${trouble ? 'reading-trouble' : ''} ${reading === null ? '' : 'reading-busy'}`}
      aria-label="Reading"
    >
      <p className="unseen" role="status" aria-atomic="true">
        {shown && !trouble && spoken(run, shown)}
      </p>
      {(reading !== null || handsFree) && (
        <p className="reading-words reading-word reading-under-way">Reading {pieceOnProbes(plan, reading ?? next)} …</p>
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
          Put {nextOnProbes(run, next)} on the probes{again ? ' once more' : ''}
          {handsFree ? ' and hold still until it sounds.' : ', then take its reading.'}
        </p>
      )}
    </section>
  );
}

/** Marks the section while a piece is on the probes, many times a second; nothing is drawn anew for that. */
function useUnderWay(watched: boolean) {
  const section = useRef<HTMLElement>(null);
  const { live } = useStation();
  useEffect(() => {
    const mark = () => {
      section.current?.classList.toggle('reading-live', watched && isUnderWay(live.latest));
    };
    mark();
    return live.listen(mark);
  }, [live, watched]);
  return section;
}

function spoken({ plan, window }: Run, reading: Reading): string {
  const { piece, verdict } = reading;
  const value = readingText(reading, window);
  if (plan.choice.kind === 'study') return `${capital(pieceName(plan, piece))}. ${value}`;
  return `Piece ${piece}: ${VERDICT_WORDS[verdict]}, ${value}`;
}

function Counted({ reading, run }: { reading: Reading; run: Run }) {
  const { ohms, raw, uncertainty, verdict, piece, position } = reading;
  const shown = ohms === null ? null : showReading({ ohms, raw }, run.window);
  const digits = shown && certainDigits(shown, uncertainty?.expandedOhms ?? null);
  const size = shown ? Math.min(1, FULL_SIZE_CHARACTERS / shown.figures.length) : 1;
  const study = run.plan.choice.kind === 'study';
  return (
    <>
      <div className="reading-head">
        <p className="reading-of">
          {study ? `Turn ${piece}` : `Piece ${piece}`}
          {position !== null && `, ${positionText(position)}`}
        </p>
        {/* How the value stands must not lead the operator of a study. */}
        {!study && (
          <p className="reading-why">
            <span>
              {ohms === null
                ? 'nothing conducts, or far beyond the range'
                : (deviationText(ohms, run.window) ?? `window: ${windowText(run.window)}`)}
            </span>
            {ohms !== null && <Doubt reading={reading} run={run} />}
          </p>
        )}
      </div>
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
      {study ? (
        <div className="reading-verdict" key={reading.reading}>
          <p className="reading-word">Taken</p>
        </div>
      ) : (
        <div className={`reading-verdict verdict-words-${verdict}`} key={reading.reading}>
          <VerdictMark verdict={verdict} />
          <p className={`reading-word ${wordSize(verdict)}`}>{VERDICT_WORDS[verdict]}</p>
        </div>
      )}
    </>
  );
}

/** The longer its words, the smaller they are written: a verdict has the same room whatever it is. */
function wordSize(verdict: Verdict): string {
  if (verdict.startsWith('conditional-')) return 'reading-word-long';
  return verdict.startsWith('fail-') ? 'reading-word-two' : '';
}

/** What the reading is worth, beside its deviation. */
function Doubt({ reading, run }: { reading: Reading; run: Run }) {
  const { uncertainty } = reading;
  const wrong = wrongOf(reading, run.window);
  return (
    <>
      <span>{uncertainty ? uncertaintyText(uncertainty) : 'uncertainty not known'}</span>
      {wrong !== null && wrong > WRONG_WORTH_SAYING && <span>may be wrong: {probabilityText(wrong)}</span>}
    </>
  );
}
