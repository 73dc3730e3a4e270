import type { Standard } from '../sampling/singlePlan.ts';
import { switchingState } from '../sampling/switching.ts';
import type { Series } from './lotClaim.ts';
import type { LotOutcome } from './lotOutcome.ts';

/**
 * How inspection of the lots of a part and supplier stands. Practice on the simulated bench never counts for a real lot, so it never
 * counts at all: when a lot is received nobody knows yet which bench it comes to.
 * @param outcomes of this part and supplier, in any order
 * @param lot number of the lot that is received, and its reel; one that was decided before is offered again
 */
export function seriesOf(
  outcomes: readonly LotOutcome[],
  { standard, lot, reel }: { standard: Standard; lot: string; reel: string },
): Series {
  const real = outcomes
    .filter(({ practice }) => !practice)
    .sort((a, b) => Date.parse(a.decidedAt) - Date.parse(b.decidedAt) || a.run - b.run);
  const lots = real.flatMap(({ switching }) => (switching?.standard === standard ? [switching] : []));
  // Table VIII of MIL-STD-105E could not be had from two sources, so reduced inspection by it takes a person's override.
  const { severity, reducedAllowed, score, why, behind } = switchingState(lots, null);
  const before = lot === '' ? undefined : real.findLast((outcome) => outcome.lot === lot && outcome.reel === reel);
  return { switching: { severity, reducedAllowed, score, why, behind }, offeredAgainAfter: before?.run ?? null };
}
