import { useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField, WhyField } from '../controls/whoAndWhy.tsx';
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
        <WhyField label="Reason to lift the hold" value={reason} onChange={setReason} tried={tried} />
        <WhoField label="Lifted by" value={by} onChange={setBy} tried={tried} />
      </div>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action submits>Lift the hold</Action>
      </div>
    </form>
  );
}
