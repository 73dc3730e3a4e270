import { useState } from 'react';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TickField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField } from '../controls/whoAndWhy.tsx';
import { useStation } from '../station/station.tsx';

/** The cautions, each confirmed by itself before anything is checked or read. */
export function Cautions({ number, run }: { number: number; run: Run }) {
  const { line } = useStation();
  const [ticked, setTicked] = useState<readonly boolean[]>(CAUTIONS.map(() => false));
  const [by, setBy] = useState(run.inspector);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [tried, setTried] = useState(false);
  const missing = ticked.filter((tick) => !tick).length;

  async function confirm() {
    setTried(true);
    if (missing > 0 || by.trim() === '') return;
    try {
      await line.ask('confirm-bench', { run: number, by, cautions: [...CAUTIONS] });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      className="ready-confirm"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        confirm();
      }}
    >
      <fieldset>
        <legend>Before anything is read, confirm each</legend>
        {CAUTIONS.map((caution, index) => (
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
      <div className="ready-end">
        <WhoField label="Confirmed by" value={by} onChange={setBy} tried={tried} />
        <Action primary submits keyName="Enter">
          Confirm the cautions
        </Action>
      </div>
    </form>
  );
}
