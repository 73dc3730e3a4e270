import { notToldApart, readingCauses } from '../../core/diagnosis/readingCauses.ts';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { conforms } from '../../core/window/judge.ts';
import { LookSection } from '../lookPage.tsx';

/** What a reading that does not conform may come from, each with its evidence and what to do next; its verdict stays. */
export function MayBe({ run, reading }: { run: Run; reading: Reading }) {
  if (conforms(reading.verdict) || !counts(reading)) return null;
  const causes = readingCauses({
    window: run.window,
    tolerance: run.part.tolerance,
    ohms: reading.ohms,
    expandedOhms: reading.uncertainty?.expandedOhms ?? null,
    method: run.measurement.method,
  });
  const alike = notToldApart(causes);
  return (
    <LookSection id="worth-may-be" title="What it may be">
      {causes.length === 0 && (
        <p>Nothing that is known here reads like this. Take the piece again, then its neighbours.</p>
      )}
      {alike > 1 && <p>This reading alone cannot tell between the first {alike}.</p>}
      <ol className="worth-causes">
        {causes.map(({ cause, evidence, next }) => (
          <li key={cause}>
            <p>
              <strong>{capital(cause)}.</strong> {evidence}
            </p>
            <p className="quiet">Next: {next}</p>
          </li>
        ))}
      </ol>
      {causes.length > 0 && <p className="quiet small">A help to find the cause. It changes no verdict.</p>}
    </LookSection>
  );
}
