import { useEffect, useLayoutEffect, useRef, useState, useSyncExternalStore } from 'react';
import { type ContinuityRun, nextPoint, pointOf } from '../../core/continuity/continuityRun.ts';
import { judgedWords, readWords } from '../../core/continuity/continuityWords.ts';
import { type Point, pairWords } from '../../core/continuity/point.ts';
import type { Stepping } from '../../core/contract/contract.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhyField } from '../controls/whoAndWhy.tsx';
import { useFootSwitch } from '../hands/footSwitch.ts';
import { onSoundChange, soundVolume } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { useFeed } from '../station/useFeed.ts';
import { formatCount } from '../words/count.ts';
import { PairShape, PointMark } from './pointMark.tsx';
import { steppingWords } from './wiringWords.ts';

/** The next pair, large enough to be read from two metres; hands-free or reading by reading. */
export function MeasurePoints({ number, run }: { number: number; run: ContinuityRun }) {
  const { line, stepping } = useStation();
  const isOn = useFeed(stepping, (now) => now !== null && now.run === number && now.phase !== 'off');
  const held = useFeed(stepping, (now) => (isOn ? (now?.held ?? null) : null));
  const isSwitch = useFeed(stepping, (now) => isOn && now?.phase === 'switch');
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  const [asking, setAsking] = useState<'skip' | 'void' | null>(null);
  const button = useRef<HTMLButtonElement>(null);
  const next = nextPoint(run);
  const point = (held === null ? next : pointOf(run, held)) ?? next;
  const last = run.readings.findLast(({ voided, suspect }) => !voided && !suspect);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is pressed next, whenever it is another
  useLayoutEffect(() => {
    if (asking === null) button.current?.focus();
  }, [isOn, asking]);
  const ask = async (what: () => Promise<unknown>) => {
    if (busy) return;
    setBusy(true);
    setProblem(null);
    try {
      await what();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  };
  const sayNow = () =>
    ask(() => line.ask('say-now', { run: number, ...(isSwitch && point && { state: point.state }) }));
  useFootSwitch(asking !== null ? null : isOn ? sayNow : next ? () => read(next) : null);
  // Nobody hears or sees it any more.
  useEffect(
    () => () => {
      line.ask('stop-stepping', {}).catch(() => undefined);
    },
    [line],
  );

  function read({ point: wanted }: Point) {
    ask(() => line.ask('read-point', { run: number, point: wanted }));
  }

  if (!point || !next) return null;
  return (
    <>
      <section className="wiring-now" aria-label="The point to be measured">
        <PairShape expected={point.expected} />
        <div className="wiring-now-words">
          <p className="quiet">
            Point {formatCount(point.point)} of {formatCount(run.points.length)}
            {point.wire !== '' && `, wire ${point.wire}`}
            {point.origin === 'cross' && ', cross-connection'}
            {point.note !== '' && `, ${point.note}`}
          </p>
          <p className={`wiring-pair ${sizeOf(point)}`}>
            <span>{point.from}</span> <span aria-hidden="true">–</span> <span>{point.to}</span>
          </p>
          <p className="wiring-expected">
            to be <strong>{point.expected}</strong>
            {point.state !== '' && (
              <>
                {' '}
                with <strong className="wiring-state">{point.state}</strong>
              </>
            )}
          </p>
        </div>
        {isOn ? <Probes expected={point.expected} /> : <StandingBy run={run} number={number} point={point} />}
      </section>
      {last && (
        <p className="wiring-last" role="status">
          <PointMark verdict={last.verdict} /> Point {last.point}, {pairWords(run.points[last.point - 1] as Point)}:{' '}
          <span className="figures">{readWords(last)}</span>, {judgedWords(last)}
        </p>
      )}
      <ProblemNotice problem={problem} />
      {asking && (
        <Why
          what={asking}
          about={
            asking === 'skip'
              ? `point ${next.point}, ${pairWords(next)}`
              : `reading ${last?.reading}, of point ${last?.point}`
          }
          onWhy={async (reason) => {
            const by = run.inspector;
            setAsking(null);
            await ask(() =>
              asking === 'skip'
                ? line.ask('skip-point', { run: number, point: next.point, by, reason })
                : line.ask('void-point', { run: number, reading: last?.reading ?? 0, by, reason }),
            );
          }}
          onLeave={() => setAsking(null)}
        />
      )}
      {!asking && (
        <div className="actions">
          {isOn ? (
            <Action ref={button} primary keyName="Enter" onPress={sayNow}>
              {isSwitch ? `It stands so: ${point.state}` : 'Held there, nothing conducts'}
            </Action>
          ) : (
            <Action ref={button} primary keyName="Enter" onPress={() => read(next)} disabled={busy}>
              {busy ? 'Reading…' : 'Read this point'}
            </Action>
          )}
          {isOn ? (
            <Action keyName="Escape" onPress={() => ask(() => line.ask('stop-stepping', {}))}>
              Stop hands-free
            </Action>
          ) : (
            <Action keyName="h" onPress={() => ask(() => line.ask('start-stepping', { run: number }))} disabled={busy}>
              Hands-free
            </Action>
          )}
          <Action keyName="s" onPress={() => setAsking('skip')}>
            Skip
          </Action>
          {last && (
            <Action keyName="v" onPress={() => setAsking('void')}>
              Void the last
            </Action>
          )}
        </div>
      )}
    </>
  );
}

/** Names are shown as large as they fit: what is long is smaller. */
function sizeOf({ from, to }: Point): string {
  const length = from.length + to.length;
  if (length <= 10) return 'wiring-pair-short';
  return length <= 24 ? 'wiring-pair-middling' : 'wiring-pair-long';
}

/** How the probes stand, drawn by itself. */
function Probes({ expected }: { expected: Point['expected'] }) {
  const { stepping } = useStation();
  const now = useSyncExternalStore(stepping.listen, () => stepping.latest);
  const volume = useSyncExternalStore(onSoundChange, soundVolume);
  const { large, toDo } = steppingWords(now, expected);
  return (
    <section className={`wiring-probes wiring-probes-${now?.phase ?? 'armed'}`} aria-label="The probes">
      <p className="wiring-probes-large">{large}</p>
      <p className="figures wiring-probes-value">{valueWords(now)}</p>
      <p>{now?.troubleWords ?? toDo}</p>
      <Trouble />
      {volume === 0 && <p>Sound is off: only this page tells. It is switched on under “Sound and look”.</p>}
    </section>
  );
}

/** What did not count last; it stays until the next point is taken. */
function Trouble() {
  const { stepping } = useStation();
  const [words, setWords] = useState('');
  useEffect(
    () =>
      stepping.listen(() => {
        const { outcome, troubleWords } = stepping.latest ?? {};
        if (outcome === 'trouble') setWords(troubleWords ?? '');
        if (outcome === 'captured') setWords('');
      }),
    [stepping],
  );
  return (
    <p role="alert" className="field-problem">
      {words}
    </p>
  );
}

function valueWords(now: Stepping | null): string {
  if (!now || now.phase === 'switch') return '';
  return `${now.closed ? 'closed' : 'not closed'}, ${now.ohms === null ? 'overload' : formatOhms(now.ohms).replace(' ', '\u00a0')}`;
}

/** While nobody goes hands-free: why it ended, and what to do. */
function StandingBy({ number, run, point }: { number: number; run: ContinuityRun; point: Point }) {
  const { stepping } = useStation();
  const why = useFeed(stepping, (now) =>
    now?.run === number && now.phase === 'off' && now.why ? `${now.why.what}. ${now.why.toDo}` : '',
  );
  return (
    <section className="wiring-probes" aria-label="What to do">
      {why !== '' && <p role="alert">{why}</p>}
      <p>
        {point.state !== '' && (
          <>
            Set <strong>{point.state}</strong>.{' '}
          </>
        )}
        Hold both tips on {pairWords(point)} and read; or go hands-free: contact is taken when it is held, and two taps
        of the tips say that a point is open.
      </p>
      <p className="quiet small">
        That the tips were on an open point no meter can see. {formatCount(run.checksEveryReadings)} readings are taken
        between two checks of the leads.
      </p>
    </section>
  );
}

/** Why a point is skipped, or a reading does not count. */
function Why(props: { what: 'skip' | 'void'; about: string; onWhy: (reason: string) => void; onLeave: () => void }) {
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  return (
    <form
      className="wiring-why"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (reason.trim() !== '') props.onWhy(reason);
      }}
    >
      <WhyField
        label={props.what === 'skip' ? `Why is ${props.about} skipped?` : `Why should ${props.about} not count?`}
        value={reason}
        onChange={setReason}
        tried={tried}
        autoFocus
      />
      <div className="actions">
        <Action primary submits keyName="Enter">
          {props.what === 'skip' ? 'Skip the point' : 'Make it void'}
        </Action>
        <Action keyName="Escape" onPress={props.onLeave}>
          Back
        </Action>
      </div>
    </form>
  );
}
