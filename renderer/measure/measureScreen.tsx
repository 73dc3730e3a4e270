import { type ReactNode, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { Entry } from '../../core/contract/contract.ts';
import { counts, nextPiece, type Run } from '../../core/inspection/run.ts';
import { tallyWords } from '../../core/inspection/standingWords.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { capital } from '../../core/quantity/sentence.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { Charts } from '../charts/chartsLater.tsx';
import { Action } from '../controls/action.tsx';
import { ChooseTaking, type Taking } from '../hands/chooseTaking.tsx';
import { learnedSwitch, switchWords, useFootSwitch } from '../hands/footSwitch.ts';
import { PhaseBanner } from '../hands/phaseBanner.tsx';
import { TAKEN_BY_WORDS } from '../hands/takenBy.ts';
import { useCapture } from '../hands/useCapture.ts';
import { useDialogOpen } from '../hands/useDialogOpen.ts';
import { LookCloser } from '../lookCloser.tsx';
import { play } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { guardOf } from '../windowBar/guardOf.ts';
import { TICKS, WindowBar } from '../windowBar/windowBar.tsx';
import { pieceOnProbes } from '../words/turn.ts';
import { AnotherPosition } from './anotherPosition.tsx';
import { BigReading, type Trouble } from './bigReading.tsx';
import { interruptionOf } from './interruption.ts';
import { MeasureAgain } from './measureAgain.tsx';
import { NextPiece } from './nextPiece.tsx';
import { RoomLeft } from './roomLeft.tsx';
import { StudyTurn } from './studyTurn.tsx';
import { useReelTrend } from './useReelTrend.ts';
import { VoidReading } from './voidReading.tsx';
import { WarningLine } from './warningLine.tsx';
import { warningsOf } from './warnings.ts';
import { wouldLead } from './wouldLead.ts';
import './measureScreen.css';

const TWICE_MILLISECONDS = 300;

/** Keys of this screen, none of which a foot switch can be. */
const JOB_KEYS = ['b', 'f', 'h', 'm', 'o', 'p', 'v', 'w'];

/** Measuring: one piece after the other, the verdict at once, and where the run stands. */
export function MeasureScreen(props: {
  number: number;
  run: Run;
  card: ReactNode;
  hold: (entry: Entry) => void;
  /** Number of the last reading that something else came after: it is not shown again as if nothing had been. */
  putAway: number;
  onPutAway: (reading: number) => void;
  /** The bench is to be checked before the checks are due. */
  onCheckBench: () => void;
  onPutOnHold: () => void;
  /** How readings are taken; kept while the run is open, also through checks of the bench. */
  taking: Taking;
  onTaking: (taking: Taking) => void;
}) {
  const { number, run, putAway, onPutAway, taking } = props;
  const { line, link, up } = useStation();
  /** Number of the piece that is being read. */
  const [reading, setReading] = useState<number | null>(null);
  const [trouble, setTrouble] = useState<{ problem: Problem; piece: number } | null>(null);
  const takeButton = useRef<HTMLButtonElement>(null);
  const probes = useRef<HTMLElement>(null);
  const lastTaken = useRef(Number.NEGATIVE_INFINITY);

  const interruption = interruptionOf(run, link);
  const canTake = !interruption && up === true && link.state === 'connected';
  const by = taking.by === 'key' ? null : taking.by;
  const dialogOpen = useDialogOpen();
  const capture = useCapture(number, by, canTake && !dialogOpen, taking.overrides);
  const next = nextPiece(run);
  const again = run.again.includes(next);
  const study = run.plan.choice.kind === 'study' ? run.plan.choice : null;
  const newest = run.readings.last();
  const leads = study !== null && newest !== undefined && wouldLead(study, newest.piece, next);
  const shown = newest && counts(newest) && newest.reading > putAway && !leads ? newest : undefined;

  async function take(pressedAt: number) {
    if (reading !== null || !canTake || by !== null) return;
    // Nobody changes a real piece that fast: the second press of a double press belongs to the first.
    if (!run.meter?.identity.simulated && pressedAt - lastTaken.current < TWICE_MILLISECONDS) return;
    setReading(next);
    setTrouble(null);
    try {
      const { entry } = await line.ask('take-reading', { run: number });
      props.hold(entry);
      lastTaken.current = performance.now();
    } catch (thrown) {
      setTrouble({ problem: asProblem(thrown), piece: next });
      onPutAway(run.readings.size);
      play('trouble');
    } finally {
      setReading(null);
    }
  }

  async function sayOpen() {
    try {
      await line.ask('say-open', { run: number });
    } catch (thrown) {
      setTrouble({ problem: asProblem(thrown), piece: next });
      play('trouble');
    }
  }
  useFootSwitch(by === null ? take : by === 'hands' ? sayOpen : null);

  // Its port may have another name now; and where another meter answered, the station has stopped looking.
  const chooseAgain = () => line.ask('release-meter', {}).catch(() => undefined);

  /** Hands-free, no key is near that a hand in the rhythm of before could press. */
  const backToHands = useCallback(() => (takeButton.current ?? probes.current)?.focus({ preventScroll: true }), []);

  // Hands go back to the probes: whatever had the focus, the next key is for the next piece.
  // biome-ignore lint/correctness/useExhaustiveDependencies: also when readings are taken another way
  useLayoutEffect(() => {
    if (!canTake) return;
    setTrouble(null);
    backToHands();
  }, [canTake, by, backToHands]);

  // Hands may have changed the piece while nothing could be read.
  const away = interruption !== null || up === false;
  useEffect(() => {
    if (away) onPutAway(run.readings.size);
  }, [away, run.readings.size, onPutAway]);

  // A reading that came all the same, here or on another screen, or one that was voided: the trouble is past.
  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever the readings changed
  useEffect(() => setTrouble(null), [run.readings]);

  const leavesAt = useReelTrend(run);
  const recent = run.readings.takeLast(3 * TICKS).filter((reading) => !reading.voided);
  const piece = trouble || interruption || reading !== null || capture.trouble !== null ? undefined : shown;
  const footSwitch = learnedSwitch();
  const tally = tallyWords(run);

  /** Why no reading counts now, the gravest first. */
  function troubleNow(): Trouble | null {
    if (interruption) {
      const action = link.state === 'lost' && <Action onPress={chooseAgain}>Choose the meter again</Action>;
      return { title: 'The run is interrupted', ...interruption, action };
    }
    if (up === false) return STATION_AWAY;
    if (trouble) {
      const { what, toDo } = trouble.problem;
      return { title: titleOf(trouble, run.plan), what, toDo };
    }
    if (capture.ended) {
      const { what, toDo } = capture.ended;
      const action = (
        <Action keyName=" " onPress={capture.goOn}>
          Go on: {TAKEN_BY_WORDS[taking.by].toLowerCase()}
        </Action>
      );
      return { title: 'Pieces are not read now', what, toDo, action };
    }
    if (capture.trouble === null) return null;
    return { title: 'Trouble at the probes', what: capture.trouble, toDo: '' };
  }

  return (
    <StepPage step="measure" title="Measure" card={props.card} unseenTitle>
      {study ? (
        <StudyTurn choice={study} plan={run.plan} turn={next} />
      ) : (
        <div className="measure-head">
          <NextPiece run={run} reading={reading} />
          <div className="measure-tally">
            <p>
              <strong>{tally.measured}</strong>
            </p>
            <p>{tally.found}</p>
            <RoomLeft run={run} />
          </div>
        </div>
      )}
      <MeasureAgain run={run} />
      <BigReading
        run={run}
        shown={shown}
        reading={reading}
        handsFree={by !== null}
        trouble={troubleNow()}
        next={next}
        again={again}
      />
      {by !== null && (
        <PhaseBanner ref={probes} next={next} window={study ? null : run.window} ended={capture.ended !== null} />
      )}
      {/* Earlier values and verdicts must not lead the operator of a study. */}
      {!study && (
        <>
          <WindowBar
            window={run.window}
            guard={guardOf(run)}
            piece={piece}
            recent={piece ? recent.filter((reading) => reading.reading !== piece.reading) : recent}
            size="large"
          />
          <div className="measure-closer">
            <WarningLine warnings={piece ? warningsOf(run, piece, leavesAt) : []} />
            <LookCloser run={number} views={['worth', 'figures']} disabled={!newest} />
          </div>
        </>
      )}
      <div className="actions measure-actions">
        {by === null ? (
          <Action primary keyName=" " onPress={take} disabled={!canTake} ref={takeButton}>
            Take reading
          </Action>
        ) : (
          by === 'hands' && (
            <Action keyName="o" notBySpace onPress={sayOpen} disabled={!canTake || capture.ended !== null}>
              This one is open{footSwitch !== null && ` (${switchWords(footSwitch)})`}
            </Action>
          )
        )}
        {study && <NextPiece run={run} reading={reading} />}
        <VoidReading number={number} run={run} onClosed={backToHands} />
        <AnotherPosition number={number} run={run} disabled={reading !== null} onClosed={backToHands} />
        <Action keyName="h" onPress={props.onPutOnHold}>
          Put on hold
        </Action>
        <ChooseTaking
          taking={taking}
          run={run}
          words={capture.words}
          jobKeys={JOB_KEYS}
          onChange={props.onTaking}
          onClosed={backToHands}
        />
        <Action keyName="b" onPress={props.onCheckBench}>
          Check bench
        </Action>
      </div>
      {!study && <Charts run={run} />}
    </StepPage>
  );
}

/** What happened stands in full above the screen. */
const STATION_AWAY = {
  title: 'The station does not answer',
  what: 'No reading can be taken until it does',
  toDo: 'What to do stands at the top of this page.',
};

/** A reading whose answer is missing may have counted all the same; the entries will tell. */
function titleOf({ problem, piece }: { problem: Problem; piece: number }, plan: Plan): string {
  if (problem.code === 'station-away') return 'No answer yet';
  const name = capital(pieceOnProbes(plan, piece));
  return problem.code === 'reading-under-way' ? `${name} is being read already` : `${name} not counted`;
}
