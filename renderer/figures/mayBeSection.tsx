import { useMemo } from 'react';
import { LEAST_READINGS, lotCauses } from '../../core/diagnosis/lotCauses.ts';
import { lotSeen } from '../../core/diagnosis/lotSeen.ts';
import { oddLotOf } from '../../core/inspection/oddLotOf.ts';
import type { Run } from '../../core/inspection/run.ts';
import { CausesShown } from '../diagnosis/causesShown.tsx';

/** What may be wrong with the lot, or with the bench it was measured on. */
export function MayBeSection({ run }: { run: Run }) {
  const { window, part, measurement, readings, references } = run;
  const { causes, isJudged } = useMemo(() => {
    const odd = oddLotOf({ window, part, measurement, readings, references });
    return { causes: lotCauses(odd), isJudged: lotSeen(odd) !== null };
  }, [window, part, measurement, readings, references]);
  // Suspect readings say what made them so.
  if (causes.length === 0 && run.tally.counted < LEAST_READINGS) {
    return (
      <p>With fewer than {LEAST_READINGS} readings nothing is said of the lot. Each reading says what it may be.</p>
    );
  }
  if (causes.length === 0 && !isJudged) {
    return <p>Of a part without a nominal value between two limits nothing is said of the lot as a whole.</p>;
  }
  if (causes.length === 0) {
    return (
      <p className="look-say">
        Nothing odd is seen in these readings as a whole. That is no proof that nothing is wrong.
      </p>
    );
  }
  return <CausesShown causes={causes} of="These readings" />;
}
