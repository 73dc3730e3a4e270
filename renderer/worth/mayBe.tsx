import { readingCauses } from '../../core/diagnosis/readingCauses.ts';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import { conforms } from '../../core/window/judge.ts';
import { CausesShown } from '../diagnosis/causesShown.tsx';
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
  return (
    <LookSection id="worth-may-be" title="What it may be">
      {causes.length === 0 && (
        <p>Nothing that is known here reads like this. Take the piece again, then its neighbours.</p>
      )}
      <CausesShown causes={causes} of="This reading alone" />
    </LookSection>
  );
}
