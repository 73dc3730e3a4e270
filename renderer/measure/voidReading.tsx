import { type KeyboardEvent, useLayoutEffect, useRef, useState } from 'react';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { KeyDialog } from '../controls/keyDialog.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { readingText } from '../words/ohms.ts';
import { pieceName } from '../words/turn.ts';
import './voidReading.css';

/** The last reading that counts. */
export function lastReading(run: Run): Reading | undefined {
  return run.readings.findLast(counts);
}

/**
 * Voids the last reading that counts: one key asks why, a second one says it, and the piece is measured again. The record
 * keeps both.
 */
export function VoidReading(props: { number: number; run: Run; onClosed?: () => void }) {
  const { number, run } = props;
  const last = lastReading(run);
  return (
    <KeyDialog keyName="v" words="Void the last" disabled={!last} labelledBy="void-title" onClosed={props.onClosed}>
      {(close) => last && <VoidForm number={number} run={run} last={last} onDone={close} />}
    </KeyDialog>
  );
}

/** What mostly spoils a reading, each by its digit. */
const REASONS = ['The contact slipped', 'It was the wrong piece'] as const;
const OTHER_DIGIT = String(REASONS.length + 1);

/** @param props.last the reading that was last when it was asked for: another one may come in the meantime */
function VoidForm(props: { number: number; run: Run; last: Reading; onDone: () => void }) {
  const { run } = props;
  const [reading] = useState(props.last);
  const { line } = useStation();
  const [other, setOther] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const voiding = useRef(false);
  const box = useRef<HTMLDivElement>(null);
  // The dialog was open before its first reason was there.
  useLayoutEffect(() => box.current?.querySelector('button')?.focus(), []);

  async function voidIt(reason: string, by = run.inspector) {
    if (voiding.current) return;
    voiding.current = true;
    setProblem(null);
    try {
      await line.ask('void-reading', { run: props.number, reading: reading.reading, by, reason });
      props.onDone();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      voiding.current = false;
    }
  }

  function onKeyDown(event: KeyboardEvent) {
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target instanceof HTMLInputElement) return;
    const reason = REASONS[Number(event.key) - 1];
    if (reason === undefined && event.key !== OTHER_DIGIT) return;
    event.preventDefault();
    if (reason !== undefined) voidIt(reason);
    else setOther(true);
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the digits of the buttons inside work anywhere in the dialog
    <div ref={box} className="dialog-words" onKeyDown={onKeyDown}>
      <h2 id="void-title">Void the reading of {pieceName(run.plan, reading.piece)}?</h2>
      <p>
        <span className="figures">{readingText(reading, run.window)}</span>
        {run.plan.choice.kind !== 'study' && <>, {VERDICT_WORDS[reading.verdict].toLowerCase()}</>}. It stays in the
        record as void, and the piece is measured again.
      </p>
      {!other && <p>One of these voids it at once, in the name of {run.inspector}:</p>}
      <fieldset className="void-reasons">
        <legend className="unseen">Why</legend>
        {REASONS.map((reason, index) => (
          <Action key={reason} keyName={String(index + 1)} notBySpace onPress={() => voidIt(reason)}>
            {reason}
          </Action>
        ))}
        {!other && (
          <Action keyName={OTHER_DIGIT} notBySpace onPress={() => setOther(true)}>
            Another reason
          </Action>
        )}
      </fieldset>
      {other && <OtherReason inspector={run.inspector} onVoid={voidIt} />}
      <ProblemNotice problem={problem} />
      <div className="actions">
        <button type="button" className="action" onClick={props.onDone}>
          <span>Keep it</span>
          <span className="key" aria-hidden="true">
            Esc
          </span>
        </button>
      </div>
    </div>
  );
}

/** A reason that is none of the usual ones, and who gives it. */
function OtherReason(props: { inspector: string; onVoid: (reason: string, by: string) => void }) {
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(props.inspector);
  const [tried, setTried] = useState(false);
  const [why, who] = [reason.trim(), by.trim()];
  return (
    <form
      className="dialog-words"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (why !== '' && who !== '') props.onVoid(why, who);
      }}
    >
      <TextField
        label="Which reason"
        value={reason}
        onChange={setReason}
        problem={tried && why === '' ? 'Write in a few words why.' : undefined}
        autoFocus
        required
      />
      <TextField
        label="Voided by"
        value={by}
        onChange={setBy}
        problem={tried && who === '' ? 'Must not be empty.' : undefined}
        required
      />
      <div className="actions">
        <Action primary submits keyName="Enter">
          Void the reading
        </Action>
      </div>
    </form>
  );
}
