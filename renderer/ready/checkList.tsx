import { type ReactNode, useRef, useState } from 'react';
import type { Entry } from '../../core/contract/contract.ts';
import type { BenchCheck, Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { CHECKS, type CheckName } from '../../core/readiness/check.ts';
import { Action } from '../controls/action.tsx';
import { WhoField } from '../controls/whoAndWhy.tsx';
import { OutcomeMark } from '../outcome/outcomeMark.tsx';
import { CHECK_TITLES } from '../outcome/outcomeWords.ts';
import { play } from '../sound/player.ts';
import { useStation } from '../station/station.tsx';
import { useLongWork } from '../station/useLongWork.ts';
import { foundLines } from '../words/found.ts';
import { formatLater, withTimes } from '../words/time.ts';
import { CalibrationHelp } from './calibrationHelp.tsx';
import { type CheckAsked, CheckNow } from './checkNow.tsx';
import { type CheckRow, checkAtTurn, checkRows } from './checkRows.ts';
import './checkList.css';

/** A key still held from the check before must not do the next one before the hands have moved. */
const SETTLE_MILLISECONDS = 700;

/** The seven checks of the bench in order, one under work at a time. */
export function CheckList(props: {
  number: number;
  run: Run;
  hold: (entry: Entry) => void;
  onEnterMeterData: () => void;
}) {
  const { number, run, hold } = props;
  const { line, up } = useStation();
  const work = useLongWork();
  const [by, setBy] = useState(run.benchConfirmed?.by ?? run.inspector);
  /** A check that has passed and is to be done again. */
  const [again, setAgain] = useState<CheckName | null>(null);
  const [busy, setBusy] = useState<CheckName | null>(null);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const settled = useRef(Number.NEGATIVE_INFINITY);
  const rows = checkRows(run);
  const now = again ?? checkAtTurn(run);
  const simulated = run.meter?.identity.simulated === true;

  async function doCheck(check: CheckName, asked: CheckAsked) {
    if (busy !== null || up !== true) return;
    setTried(true);
    if (by.trim() === '') return;
    setProblem(null);
    setBusy(check);
    try {
      const done = await work.ask('check-bench', { run: number, by, check, ...asked });
      // Stopped: it was not done, which is neither passed nor failed.
      if (!done) return;
      const { entry } = done;
      hear(entry);
      // Method and range follow from what was read before: no hand has to move for it.
      if (check === 'reference' && !isFailed(entry)) {
        setBusy('method');
        hear((await line.ask('check-bench', { run: number, by, check: 'method' })).entry);
      }
    } catch (thrown) {
      setProblem(asProblem(thrown));
      play('trouble');
    } finally {
      settled.current = performance.now() + SETTLE_MILLISECONDS;
      setBusy(null);
    }
  }

  function hear(entry: Entry) {
    hold(entry);
    play(isFailed(entry) ? 'fail' : 'pass');
    setAgain(null);
  }

  return (
    <section className="checks" aria-labelledby="checks">
      <div className="checks-head">
        <h2 id="checks">Checks of the bench</h2>
        <WhoField label="Checked by" value={by} onChange={setBy} tried={tried} />
      </div>
      <ol className="checks-list">
        {rows.map((row) => (
          <Row
            key={row.check}
            row={row}
            run={run}
            isNow={row.check === now}
            onAgain={busy === null && row.check !== now ? () => setAgain(row.check) : null}
          >
            {row.check === now && (
              <CheckNow
                key={row.check}
                run={run}
                row={row}
                busy={busy !== null}
                work={work}
                problem={problem}
                onDo={(asked, pressedAt) => {
                  if (simulated || pressedAt >= settled.current) doCheck(row.check, asked);
                }}
                onLeave={again === null ? null : () => setAgain(null)}
                help={
                  row.check === 'meter' &&
                  row.stands === 'failed' && (
                    <CalibrationHelp
                      number={number}
                      run={run}
                      onEnterMeterData={props.onEnterMeterData}
                      onOverridden={() => doCheck('meter', {})}
                    />
                  )
                }
              />
            )}
          </Row>
        ))}
      </ol>
    </section>
  );
}

function isFailed({ event }: Entry): boolean {
  return event.type === 'bench-checked' && event.outcome === 'failed';
}

function Row(props: { row: CheckRow; run: Run; isNow: boolean; onAgain: (() => void) | null; children: ReactNode }) {
  const { row, run, isNow, onAgain } = props;
  const { check, stands, last } = row;
  const done = stands !== 'due' && stands !== 'ahead';
  const title = CHECK_TITLES[check];
  const overridden = check === 'meter' && stands === 'passed' && run.overridden !== null;
  return (
    <li
      className={`check ${isNow ? 'check-at-hand' : ''} ${done ? `check-${stands}` : 'check-open'}`}
      aria-current={isNow ? 'step' : undefined}
    >
      <div className="check-head">
        <h3>
          <span className="check-place">{CHECKS.indexOf(check) + 1}</span>
          {title}
        </h3>
        {done ? (
          // What somebody answers for by name is not the same as what was shown.
          <OutcomeMark outcome={overridden ? 'by-word' : stands} {...(overridden && { words: 'Overridden' })} />
        ) : (
          <span className="quiet">{isNow ? 'now' : stands === 'due' ? 'due' : 'to come'}</span>
        )}
        {done && stands !== 'failed' && onAgain && (
          <Action onPress={onAgain} label={`Do again: ${title}`}>
            Do again
          </Action>
        )}
      </div>
      {done && last && <Shown last={last} run={run} />}
      {props.children}
    </li>
  );
}

/** How a check came out, in full, and what was read for it. */
function Shown({ last, run }: { last: BenchCheck; run: Run }) {
  const read = last.found.filter(({ what }) => what !== 'word' && what !== 'waiver');
  const figures = foundLines(read).filter(({ values }) => !values.every((value) => last.why.includes(value)));
  return (
    <div className="check-shown">
      <p className="check-why" role={last.outcome === 'failed' ? 'alert' : undefined}>
        {sentence(withTimes(last.why))}
        {last.check === 'no-voltage' && last.outcome !== 'failed' && (
          <span> This says nothing of other places, and never that something is safe to touch.</span>
        )}
      </p>
      <p className="check-read quiet">
        {figures.map(({ what, values }) => (
          <span key={what}>
            {what}: {values.join(', ')}
          </span>
        ))}
        <span>
          {last.by}, {formatLater(last.at, run.receivedAt)}
        </span>
      </p>
    </div>
  );
}
