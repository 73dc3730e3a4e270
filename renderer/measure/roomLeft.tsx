import type { Tally } from '../../core/inspection/tally.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { formatCount } from '../words/count.ts';

/** More places than this say nothing at a glance; then the sentence beside them has to do. */
const MOST_PLACES = 16;

/** A place for each nonconforming piece the plan accepts, and the one at which the lot falls. */
export function RoomLeft({ tally, plan }: { tally: Tally; plan: Plan }) {
  if (plan.reject > MOST_PLACES) return null;
  return (
    <p className="room small quiet" aria-hidden="true">
      {Array.from({ length: plan.reject }, (_, place) => {
        const taken = place < tally.nonconforming;
        const last = place === plan.reject - 1;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: places do not move
          <span key={place} className={`room-place ${taken ? 'room-taken' : ''} ${last ? 'room-last' : ''}`} />
        );
      })}
      not accepted from {formatCount(plan.reject)}
    </p>
  );
}
