import { useState } from 'react';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TickField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField } from '../controls/whoAndWhy.tsx';
import './cautions.css';

/** The cautions, each confirmed by itself before anything is checked or read. */
export function Cautions(props: {
  cautions: readonly string[];
  legend: string;
  /** Who does the run. */
  inspector: string;
  onConfirm: (by: string) => Promise<unknown>;
}) {
  const { cautions, legend } = props;
  const [ticked, setTicked] = useState<readonly boolean[]>(cautions.map(() => false));
  const [by, setBy] = useState(props.inspector);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [tried, setTried] = useState(false);
  const missing = ticked.filter((tick) => !tick).length;

  async function confirm() {
    setTried(true);
    if (missing > 0 || by.trim() === '') return;
    try {
      await props.onConfirm(by);
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      className="cautions"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        confirm();
      }}
    >
      <fieldset>
        <legend>{legend}</legend>
        {cautions.map((caution, index) => (
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
      <div className="cautions-end">
        <WhoField label="Confirmed by" value={by} onChange={setBy} tried={tried} />
        <Action primary submits keyName="Enter">
          Confirm the cautions
        </Action>
      </div>
    </form>
  );
}
