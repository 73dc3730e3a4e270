import { isAcceptedAgainstPlan } from '../../core/inspection/decide.ts';
import { outlook } from '../../core/inspection/outlook.ts';
import type { Decided, Run } from '../../core/inspection/run.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { formatTime } from '../words/time.ts';

/** Who decided the lot, when and why; that it was decided against its plan and who answers for that; that the decision was corrected. */
export function HowDecided({ run, decided }: { run: Run; decided: Decided }) {
  const { disposition, by, at, reason, approvedBy, firstAt } = decided;
  const against = isAcceptedAgainstPlan(run, disposition);
  const refused = disposition === 'not-accepted' && outlook(run) === 'accept';
  const corrected = at !== firstAt;
  return (
    <p className={against || refused ? 'certify-against' : undefined}>
      {against && (
        <>
          <strong>Accepted against its plan.</strong> {approvedBy} answers for it as well.{' '}
        </>
      )}
      {refused && <strong>Not accepted although its plan would accept it. </strong>}
      {corrected ? 'Corrected' : disposition === 'on-hold' ? 'Put on hold' : 'Decided'} by {by}, {formatTime(at)}.{' '}
      {reason && disposition !== 'on-hold' && sentence(`Reason: ${reason}`)}
      {corrected && <span className="quiet"> First decided {formatTime(firstAt)}.</span>}
    </p>
  );
}
