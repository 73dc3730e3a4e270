import { meterDrift } from '../../core/drift/meterDrift.ts';
import type { Run } from '../../core/inspection/run.ts';
import { significant } from '../../core/quantity/significant.ts';
import { OUTCOME_WORDS } from '../outcome/outcomeWords.ts';
import { timeText } from './paperWords.ts';

/** Digits of E_n as the certificate has it. */
const DIGITS_OF_EN = 3;

/** Each check with the reference: what it is worth, what the meter showed, how far it moved since the first one. */
export function PaperReferences({ run }: { run: Run }) {
  const points = meterDrift(run.references, run.window);
  if (points.length === 0) return null;
  return (
    <table className="paper-table">
      <thead>
        <tr>
          <th scope="col">After reading</th>
          <th scope="col">Reference</th>
          <th scope="col" className="figures">
            Shown, Ω
          </th>
          <th scope="col" className="figures">
            Off by, Ω
          </th>
          <th scope="col" className="figures">
            Moved, Ω
          </th>
          <th scope="col" className="figures">
            May move, Ω
          </th>
          <th scope="col" className="figures">
            U of it, Ω
          </th>
          <th scope="col" className="figures">
            E_n
          </th>
          <th scope="col">Outcome</th>
          <th scope="col">When</th>
        </tr>
      </thead>
      <tbody>
        {points.map((point) => (
          <tr key={point.at}>
            <td className="figures">{point.afterReading}</td>
            <td>{point.name}</td>
            <td className="figures">{point.shownOhms}</td>
            <td className="figures">{point.deviationOhms}</td>
            <td className="figures">{point.driftOhms}</td>
            <td className="figures">±{point.mostDriftOhms}</td>
            <td className="figures">{point.uncertaintyOhms}</td>
            <td className="figures">{point.en === null ? 'not known' : significant(point.en, DIGITS_OF_EN)}</td>
            <td>{OUTCOME_WORDS[point.passed ? 'passed' : 'failed']}</td>
            <td className="figures">{timeText(point.at)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
