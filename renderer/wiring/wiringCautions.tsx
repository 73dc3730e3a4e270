import { useState } from 'react';
import { CONTINUITY_CAUTIONS } from '../../core/continuity/continuityCautions.ts';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TickField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField } from '../controls/whoAndWhy.tsx';
import { useStation } from '../station/station.tsx';

/** The cautions, each confirmed by itself before anything is checked or read. */
export function WiringCautions({ number, run }: { number: number; run: ContinuityRun }) {
  const { line } = useStation();
  const [ticked, setTicked] = useState<readonly boolean[]>(CONTINUITY_CAUTIONS.map(() => false));
  const [by, setBy] = useState(run.inspector);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [tried, setTried] = useState(false);
  const missing = ticked.filter((tick) => !tick).length;

  async function confirm() {
    setTried(true);
    if (missing > 0 || by.trim() === '') return;
    try {
      await line.ask('confirm-continuity', { run: number, by, cautions: [...CONTINUITY_CAUTIONS] });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      className="wiring-step"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        confirm();
      }}
    >
      <fieldset>
        <legend>Before the probes touch anything, confirm each</legend>
        {CONTINUITY_CAUTIONS.map((caution, index) => (
          <TickField
            key={caution}
            checked={ticked[index] ?? false}
            autoFocus={index === 0}
            onChange={(checked) => setTicked((before) => before.with(index, checked))}
          >
            {caution}
          </TickField>
        ))}
      </fieldset>
      {tried && missing > 0 && (
        <p className="field-problem" role="alert">
          {missing === 1 ? 'One caution is' : `${missing} cautions are`} not confirmed yet.
        </p>
      )}
      <ProblemNotice problem={problem} />
      <WhoField label="Confirmed by" value={by} onChange={setBy} tried={tried} />
      <div className="actions">
        <Action primary submits keyName="Enter">
          Confirm the cautions
        </Action>
      </div>
    </form>
  );
}
