import { useState } from 'react';
import { calibrationAt } from '../../core/accuracy/calibration.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField, WhyField } from '../controls/whoAndWhy.tsx';
import { useStation } from '../station/station.tsx';
import { lastCheck } from '../words/bench.ts';
import { CheckForm } from './checkForm.tsx';

/** What can be done about a meter whose calibration is overdue or unknown: enter it, or override it by name and reason. */
export function CalibrationHelp(props: {
  number: number;
  run: Run;
  onEnterMeterData: () => void;
  onOverridden: () => void;
}) {
  const { number, run } = props;
  const { line } = useStation();
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(run.inspector);
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const checked = lastCheck(run, 'meter');
  if (!run.meter || !checked || run.overridden || calibrationAt(run.meter, checked.at).state === 'in-date') return null;

  async function override() {
    setTried(true);
    if (reason.trim() === '' || by.trim() === '') return;
    try {
      await line.ask('override-calibration', { run: number, by, reason });
      props.onOverridden();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <div className="calibration-help">
      <h4>Two ways on</h4>
      <div className="actions">
        <Action keyName="c" onPress={props.onEnterMeterData}>
          Enter accuracy and calibration
        </Action>
        <p className="quiet">from the meter’s manual and its calibration certificate</p>
      </div>
      <CheckForm label="Override the calibration" onSend={override}>
        <div className="check-fields">
          <WhyField label="Or override: reason" value={reason} onChange={setReason} tried={tried} />
          <WhoField label="Overridden by" value={by} onChange={setBy} tried={tried} />
        </div>
        <ProblemNotice problem={problem} />
        <div className="actions">
          <Action submits>Override the calibration</Action>
          <p className="quiet">Name and reason stand on the certificate.</p>
        </div>
      </CheckForm>
    </div>
  );
}
