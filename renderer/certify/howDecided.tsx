import { isAcceptedAgainstPlan } from '../../core/inspection/decide.ts';
import type { Decided, Run } from '../../core/inspection/run.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { formatTime } from '../words/time.ts';

/** Who decided the lot, when and why; that it was decided against its plan and who answers for that; that the decision was corrected. */
export function HowDecided({ run, decided }: { run: Run; decided: Decided }) {
  const { disposition, by, at, reason, approvedBy, firstAt } = decided;
  const against = isAcceptedAgainstPlan(run, disposition);
  const corrected = at !== firstAt;
  return (
    <p className={against ? 'certify-against' : undefined}>
      {against && (
        <>
          <strong>Accepted against its plan.</strong> {approvedBy} answers for it as well.{' '}
        </>
      )}
      {corrected ? 'Corrected' : disposition === 'on-hold' ? 'Put on hold' : 'Decided'} by {by}, {formatTime(at)}.{' '}
      {reason && disposition !== 'on-hold' && sentence(`Reason: ${reason}`)}
      {corrected && <span className="quiet"> First decided {formatTime(firstAt)}.</span>}
    </p>
  );
}
