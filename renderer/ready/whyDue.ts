import { outlook } from '../../core/inspection/outlook.ts';
import { counts, type Run } from '../../core/inspection/run.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { CHECKS } from '../../core/readiness/check.ts';
import { isWhole, unproven } from '../../core/readiness/round.ts';
import { CHECK_TITLES } from '../outcome/outcomeWords.ts';
import { counted, formatCount } from '../words/count.ts';
import { withTimes } from '../words/time.ts';

/** Why the bench is to be checked once more, as a sentence; null before its first whole round, and where nothing asks for it. */
export function whyDue(run: Run): string | null {
  const since = sinceLastRound(run);
  const lapsed = since.findLast((happening) => happening.kind === 'lapsed');
  if (lapsed?.kind === 'lapsed') return sentence(withTimes(lapsed.why));
  const failed = since.findLast((happening) => happening.kind === 'check' && happening.outcome === 'failed');
  if (failed?.kind === 'check' && run.readings.size > 0) {
    return `The check “${CHECK_TITLES[failed.check]}” failed.`;
  }
  if (run.readings.size === 0) return null;
  if (since.some(({ kind }) => kind === 'meter')) return 'The meter was connected anew.';
  if (unproven(run) === 0 && isWhole(run)) return null;
  const says = outlook(run);
  if (says === 'accept') return 'The sample is complete: check the bench once more before the lot is decided.';
  if (says === 'not-accept') {
    return 'The plan needs no further piece: check the bench once more before the lot is decided.';
  }
  const count = unproven(run);
  if (count < run.checks.everyReadings) return null;
  return `${formatCount(count)} readings since the last checks.`;
}

/** How many readings that count were taken since the bench was last shown to be good. */
export function notProven(run: Run): number {
  return run.readings.slice(run.lastGood).filter(counts).length;
}

/** What a check that fails would do to the readings that are not proven yet; null where there are none. */
export function atStake(run: Run): string | null {
  const count = notProven(run);
  if (count === 0) return null;
  const [are, they, their] =
    count === 1 ? ['is', 'it becomes', 'its piece has'] : ['are', 'they become', 'their pieces have'];
  return `${counted(count, 'reading', 'readings')} since the last checks ${are} not proven yet. If a check fails now, ${they} suspect and ${their} to be measured again.`;
}

/** What happened at the bench since its last whole round was completed. */
function sinceLastRound({ history }: Run) {
  const end = history.findLastIndex(
    (happening) => happening.kind === 'check' && happening.check === CHECKS.at(-1) && happening.outcome !== 'failed',
  );
  return history.slice(end + 1);
}
