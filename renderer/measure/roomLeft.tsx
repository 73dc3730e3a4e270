import { standingOf } from '../../core/inspection/outlook.ts';
import type { Run } from '../../core/inspection/run.ts';
import { formatCount } from '../words/count.ts';

/** More places than this say nothing at a glance; then the sentence beside them has to do. */
const MOST_PLACES = 16;

/** A place for each nonconforming piece the plan accepts, and the one at which the lot falls; none where mean and spread decide. */
export function RoomLeft({ run }: { run: Run }) {
  const { tally, plan } = run;
  const { further } = standingOf(run);
  if (plan.variables !== null && !further) return null;
  const { reject } = further && plan.further ? plan.further : plan;
  if (reject > MOST_PLACES) return null;
  return (
    <p className="room small quiet" aria-hidden="true">
      {Array.from({ length: reject }, (_, place) => {
        const taken = place < tally.nonconforming;
        const last = place === reject - 1;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: places do not move
          <span key={place} className={`room-place ${taken ? 'room-taken' : ''} ${last ? 'room-last' : ''}`} />
        );
      })}
      not accepted from {formatCount(reject)}
    </p>
  );
}
