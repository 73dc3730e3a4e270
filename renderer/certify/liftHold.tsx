import { useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';

/** Lifts the hold of a lot by name and reason, so that its run goes on where it was. */
export function LiftHold({ number, run }: { number: number; run: Run }) {
  const { line } = useStation();
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(run.inspector);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);

  async function lift() {
    setTried(true);
    if (reason.trim() === '' || by.trim() === '') return;
    try {
      await line.ask('lift-hold', { run: number, by, reason });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      className="certify-file lift-hold"
      aria-labelledby="lift-hold"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        lift();
      }}
    >
      <h2 id="lift-hold">Go on with this lot</h2>
      <div className="lift-hold-fields">
        <TextField
          label="Reason to lift the hold"
          name="reason"
          value={reason}
          onChange={setReason}
          problem={tried && reason.trim() === '' ? 'This needs a reason. Write in a few words why.' : undefined}
          required
        />
        <TextField
          label="Lifted by"
          name="by"
          value={by}
          onChange={setBy}
          problem={tried && by.trim() === '' ? 'Must not be empty.' : undefined}
          required
        />
      </div>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action submits>Lift the hold</Action>
      </div>
    </form>
  );
}
