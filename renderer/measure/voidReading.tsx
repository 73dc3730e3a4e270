import { useLayoutEffect, useRef, useState } from 'react';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { RadioField, TextField } from '../controls/field.tsx';
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

/** Voids the last reading that counts, with a reason and a name; the piece is measured again. The record keeps both. */
export function VoidReading(props: { number: number; run: Run; onClosed?: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const last = lastReading(props.run);
  const [asked, setAsked] = useState<Reading | null>(null);

  return (
    <>
      <Action
        keyName="v"
        disabled={!last}
        onPress={() => {
          if (!last) return;
          setAsked(last);
          dialog.current?.showModal();
        }}
      >
        Void the last reading
      </Action>
      <dialog
        ref={dialog}
        className="void"
        aria-labelledby="void-title"
        onClose={() => {
          setAsked(null);
          props.onClosed?.();
        }}
      >
        {asked && (
          <VoidForm
            key={asked.reading}
            number={props.number}
            run={props.run}
            reading={asked}
            onDone={() => dialog.current?.close()}
          />
        )}
      </dialog>
    </>
  );
}

const REASONS = {
  slipped: 'The contact slipped',
  wrong: 'It was the wrong piece',
} as const;

function VoidForm(props: { number: number; run: Run; reading: Reading; onDone: () => void }) {
  const { run, reading } = props;
  const { line } = useStation();
  const [why, setWhy] = useState<'slipped' | 'wrong' | 'other'>('slipped');
  const [other, setOther] = useState('');
  const [by, setBy] = useState(run.inspector);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const reason = why === 'other' ? other.trim() : REASONS[why];
  const form = useRef<HTMLFormElement>(null);
  // The dialog was open before its form was there.
  useLayoutEffect(() => form.current?.querySelector('input')?.focus(), []);

  async function voidIt() {
    setTried(true);
    if (reason === '' || by.trim() === '') return;
    try {
      await line.ask('void-reading', { run: props.number, reading: reading.reading, by, reason });
      props.onDone();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      ref={form}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        voidIt();
      }}
    >
      <h2 id="void-title">Void the reading of {pieceName(run.plan, reading.piece)}?</h2>
      <p>
        <span className="figures">{readingText(reading, run.window)}</span>
        {run.plan.choice.kind !== 'study' && <>, {VERDICT_WORDS[reading.verdict].toLowerCase()}</>}. It stays in the
        record as void, and the piece is measured again.
      </p>
      <RadioField
        legend="Reason"
        name="why"
        value={why}
        onChange={setWhy}
        choices={[
          ['slipped', REASONS.slipped],
          ['wrong', REASONS.wrong],
          ['other', 'Another reason'],
        ]}
      />
      {why === 'other' && (
        <TextField
          label="Which reason"
          value={other}
          onChange={setOther}
          problem={tried && reason === '' ? 'Write in a few words why.' : undefined}
          required
        />
      )}
      <TextField
        label="Voided by"
        value={by}
        onChange={setBy}
        problem={tried && by.trim() === '' ? 'Must not be empty.' : undefined}
        required
      />
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action primary submits keyName="Enter">
          Void the reading
        </Action>
        <button type="button" className="action" onClick={props.onDone}>
          <span>Keep it</span>
          <span className="key" aria-hidden="true">
            Esc
          </span>
        </button>
      </div>
    </form>
  );
}
