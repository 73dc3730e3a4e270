import { counts, type Reading, type Run } from '../inspection/run.ts';
import { problem } from '../problem/problem.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { CHECKS, type CheckName } from './check.ts';

type RoundState = Pick<Run, 'round' | 'roundBegan' | 'lastGood' | 'readings' | 'checks'>;

/** Whether all checks have passed in the present round. */
export function isWhole({ round }: Pick<Run, 'round'>): boolean {
  return round.length === CHECKS.length;
}

/** How many readings were taken since the last whole round; nothing is proven of them yet. */
export function unproven({ readings, lastGood }: Pick<Run, 'readings' | 'lastGood'>): number {
  return readings.size - lastGood;
}

/** The first reading that counts of those taken since the last whole round, which the next one is to prove; else undefined. */
export function firstToBeProven({ readings, lastGood }: Pick<Run, 'readings' | 'lastGood'>): Reading | undefined {
  return readings.slice(lastGood).find(counts);
}

/** Whether a whole round was completed after the last reading, so that every reading is proven. */
export function isProven(run: Pick<Run, 'round' | 'readings' | 'lastGood'>): boolean {
  return isWhole(run) && unproven(run) === 0;
}

/**
 * Why the present round holds no longer, by time: it was begun as many minutes ago as the lot allows, or more, or, by a clock
 * that was set back since, is still to begin; null while it holds.
 */
export function staleness({ roundBegan, checks }: Pick<Run, 'roundBegan' | 'checks'>, at: string): string | null {
  if (roundBegan === null) return null;
  const minutes = (Date.parse(at) - momentOf(roundBegan)) / 60_000;
  // By that clock the round would hold for longer than it may.
  if (minutes < 0) return `the clock was set back, to before the checks were begun at ${roundBegan}`;
  if (minutes < checks.everyMinutes) return null;
  return `the checks were begun at ${roundBegan}, and they hold for ${checks.everyMinutes} minutes`;
}

const momentOf = rememberLast(Date.parse);

/**
 * Refuses a check whose turn it is not. A check may be done when all before it have passed in this round; one that has
 * passed may be done again, and those after it are then due again. Readings under a whole round close it: the next round
 * begins with the first check.
 * @throws problems check-out-of-order, readiness-expired
 */
export function mustBeItsTurn(run: RoundState, check: CheckName, at: string): void {
  const index = CHECKS.indexOf(check);
  if (index === 0) return;
  const closed = isWhole(run) && unproven(run) > 0;
  const due = closed ? CHECKS[0] : (CHECKS[run.round.length] ?? check);
  if (closed || index > run.round.length) throw problem('check-out-of-order', check, due);
  const stale = staleness(run, at);
  if (stale !== null) throw problem('readiness-expired', stale);
}

/** The round after this check came out: it reaches up to it if it passed, and ends before it if it failed. */
export function roundAfter(check: CheckName, passed: boolean): readonly CheckName[] {
  return CHECKS.slice(0, CHECKS.indexOf(check) + (passed ? 1 : 0));
}

/**
 * Refuses a reading that no whole and valid round stands behind.
 * @throws problems run-not-ready, readiness-expired
 */
export function mustBeReady(run: RoundState, at: string): void {
  if (!isWhole(run)) throw problem('run-not-ready');
  if (unproven(run) >= run.checks.everyReadings) {
    throw problem('readiness-expired', `${unproven(run)} readings were taken since they passed`);
  }
  const stale = staleness(run, at);
  if (stale !== null) throw problem('readiness-expired', stale);
}
