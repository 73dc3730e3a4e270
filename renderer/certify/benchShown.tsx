import type { Run } from '../../core/inspection/run.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { OutcomeMark } from '../outcome/outcomeMark.tsx';
import { CHECK_TITLES } from '../outcome/outcomeWords.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { afterWords, calibrationWords, checksDone, goodAfter, zeroWords } from '../words/bench.ts';
import { counted } from '../words/count.ts';
import { piecesText } from '../words/pieces.ts';
import { formatLater, withTimes } from '../words/time.ts';

/** What stands behind the readings: zero, calibration, when the bench was checked, and all that was not measured or failed. */
export function BenchShown({ run, decidedAt }: { run: Run; decidedAt: string }) {
  const zero = zeroWords(run);
  const calibration = calibrationWords(run, decidedAt);
  const good = goodAfter(run);
  const done = checksDone(run);
  const notPassed = done.filter(({ outcome }) => outcome !== 'passed');
  return (
    <section className="certify-file" aria-labelledby="certify-bench">
      <h2 id="certify-bench">The bench behind it</h2>
      <dl className="certify-facts">
        <dt>Bench checked</dt>
        <dd>{good.length === 0 ? 'Never' : `${good.map(afterWords).join(', ')}`}</dd>
        {zero && (
          <>
            <dt>Zero</dt>
            <dd>{zero}</dd>
          </>
        )}
        {run.ambientCelsius !== null && (
          <>
            <dt>Ambient</dt>
            <dd>{run.ambientCelsius}&nbsp;°C</dd>
          </>
        )}
        {calibration && (
          <>
            <dt>Calibration</dt>
            <dd>
              {run.overridden && <strong>Overridden. </strong>}
              {sentence(calibration)}
            </dd>
          </>
        )}
        {run.tally.suspect > 0 && (
          <>
            <dt>Suspect</dt>
            <dd>
              <VerdictMark verdict="suspect" /> {counted(run.tally.suspect, 'reading does', 'readings do')} not count.{' '}
              {run.again.length === 0
                ? 'The pieces were measured again.'
                : `To be measured again: piece ${piecesText(run.again)}.`}
            </dd>
          </>
        )}
        {notPassed.map((check) => (
          <div key={`${check.check} ${check.at}`} className="certify-pair">
            <dt>{CHECK_TITLES[check.check]}</dt>
            <dd>
              <OutcomeMark outcome={check.outcome} />{' '}
              <span className="quiet">
                {afterWords(check.afterReading)}, by {check.by}, {formatLater(check.at, run.receivedAt)}.
              </span>{' '}
              {sentence(withTimes(check.why))}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
