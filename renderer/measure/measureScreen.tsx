import { type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import type { Entry } from '../../core/contract/contract.ts';
import { nextPiece, type Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Charts } from '../charts/chartsLater.tsx';
import { Action } from '../controls/action.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { play } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { TICKS, WindowBar } from '../windowBar/windowBar.tsx';
import { tallySentence } from '../words/plan.ts';
import { BigReading } from './bigReading.tsx';
import { interruptionOf } from './interruption.ts';
import { RoomLeft } from './roomLeft.tsx';
import { lastReading, VoidReading } from './voidReading.tsx';
import './measureScreen.css';

/** Measuring: one piece after the other, the verdict at once, and where the run stands. */
export function MeasureScreen(props: {
  number: number;
  run: Run;
  card: ReactNode;
  hold: (entry: Entry) => void;
  onPutOnHold: () => void;
}) {
  const { number, run } = props;
  const { line, link, up } = useStation();
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState<Problem | null>(null);
  const takeButton = useRef<HTMLButtonElement>(null);

  const interruption = interruptionOf(run, link);
  const canTake = !interruption && up === true && link.state === 'connected';
  const last = lastReading(run);

  async function take() {
    if (busy || !canTake) return;
    setBusy(true);
    setTrouble(null);
    try {
      const { entry } = await line.ask('take-reading', { run: number });
      props.hold(entry);
    } catch (thrown) {
      setTrouble(asProblem(thrown));
      play('trouble');
    } finally {
      setBusy(false);
    }
  }

  // Hands go back to the probes: whatever had the focus, the next key is for the next piece.
  useLayoutEffect(() => {
    if (!canTake) return;
    setTrouble(null);
    takeButton.current?.focus({ preventScroll: true });
  }, [canTake]);

  const next = nextPiece(run);
  const recent = run.readings
    .takeLast(3 * TICKS)
    .filter((reading) => !reading.voided)
    .toArray();
  const piece = trouble || interruption || busy ? undefined : last;

  return (
    <StepPage step="measure" title="Measure" card={props.card} unseenTitle>
      {run.meter?.identity.simulated && <SimulatedMark where="measure" />}
      <div className="measure-tally">
        <p>{tallySentence(run.tally, run.plan)}</p>
        <RoomLeft tally={run.tally} plan={run.plan} />
      </div>
      <BigReading
        run={run}
        last={last}
        busy={busy}
        trouble={
          interruption
            ? { title: 'The run is interrupted', ...interruption }
            : trouble && { title: titleOf(trouble, next), what: trouble.what, toDo: trouble.toDo }
        }
        next={next}
      />
      <WindowBar
        window={run.window}
        piece={piece}
        recent={piece ? recent.filter((reading) => reading.reading !== piece.reading) : recent}
        size="large"
      />
      <div className="actions measure-actions">
        <Action primary keyName=" " onPress={take} disabled={!canTake} ref={takeButton}>
          Take reading
        </Action>
        <p className="measure-next">
          {busy
            ? `Reading piece ${next} …`
            : run.again.includes(next)
              ? `Piece ${next} once more`
              : `Next: piece ${next}`}
        </p>
        <VoidReading number={number} run={run} onClosed={() => takeButton.current?.focus()} />
        <Action keyName="h" onPress={props.onPutOnHold}>
          Put the lot on hold
        </Action>
      </div>
      <Charts run={run} />
    </StepPage>
  );
}

/** A reading whose answer is missing may have counted all the same; the entries will tell. */
function titleOf(trouble: Problem, piece: number): string {
  return trouble.code === 'station-away' ? 'No answer yet' : `Piece ${piece} not counted`;
}
