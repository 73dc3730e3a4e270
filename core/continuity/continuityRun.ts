import type { Map as ImmutableMap, List } from 'immutable';
import type { MeterFacts } from '../inspection/event.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { ContinuityDisposition, ContinuityEvent, ContinuityFacts } from './event.ts';
import type { PointVerdict } from './judgePoint.ts';
import { LEAD_CHECKS, type LeadCheckName } from './leadCheck.ts';
import type { Point } from './point.ts';

type EventOf<T extends ContinuityEvent['type']> = Extract<ContinuityEvent, { type: T }>;

/** One reading of a point as it stands now. */
export interface PointReading extends Omit<EventOf<'continuity-point-read'>, 'type'> {
  /** Set when it does not count, and why. It stays in the record. */
  voided: { by: string; reason: string; at: string } | null;
  /** Set when it does not count because a later check of the leads failed. Its point is measured again. */
  suspect: { why: string; at: string } | null;
}

/** What happened beside readings and what a run was received with, in order. `afterReading`: how many readings there were before. */
export type ContinuityHappening = { afterReading: number } & Exclude<
  ContinuityEvent,
  { type: 'continuity-received' | 'continuity-point-read' | 'continuity-certificate-written' }
>;

/** A continuity run as its events have made it. */
export interface ContinuityRun extends ContinuityFacts {
  receivedAt: string;
  meter: MeterFacts | null;
  /** The confirmation that holds now; null when the meter was connected anew since. */
  cautioned: { by: string; at: string; cautions: readonly string[] } | null;
  /** Checks that have passed in the present round, in order: a beginning of LEAD_CHECKS, or all of it. */
  round: readonly LeadCheckName[];
  /** How many readings had been taken when the last whole round was completed; those after that are not proven yet. */
  lastGood: number;
  /** What is subtracted from readings; null before the first zero. */
  zeroOhms: DecimalText | null;
  readings: List<PointReading>;
  /** The place in `readings` of the one that counts of each point that has one. */
  counting: ImmutableMap<number, number>;
  skipped: ImmutableMap<number, { by: string; reason: string; at: string }>;
  history: List<ContinuityHappening>;
  decided: {
    disposition: ContinuityDisposition;
    by: string;
    at: string;
    reason: string;
    approvedBy: string | null;
  } | null;
  certificates: readonly { file: string; sha256: string; at: string }[];
}

/** Whether all checks of the leads have passed in the present round. */
export function areLeadsGood({ round }: Pick<ContinuityRun, 'round'>): boolean {
  return round.length === LEAD_CHECKS.length;
}

/** How many readings no whole round of checks has followed yet. */
export function unprovenReadings({ readings, lastGood }: Pick<ContinuityRun, 'readings' | 'lastGood'>): number {
  return readings.size - lastGood;
}

/** Whether every reading has checks of the leads behind it, before and after. */
export function isProven(run: ContinuityRun): boolean {
  return areLeadsGood(run) && unprovenReadings(run) === 0;
}

/** The reading of a point that counts; null where it has none. */
export function readingOf(run: Pick<ContinuityRun, 'readings' | 'counting'>, point: number): PointReading | null {
  const at = run.counting.get(point);
  return at === undefined ? null : (run.readings.get(at) ?? null);
}

/** A point by its number; undefined where there is none. */
export function pointOf({ points }: Pick<ContinuityRun, 'points'>, number: number): Point | undefined {
  return points[number - 1];
}

/** The next point without a reading that counts, which nobody skipped; null where there is none left. */
export function nextPoint(run: Pick<ContinuityRun, 'points' | 'counting' | 'skipped'>): Point | null {
  return run.points.find(({ point }) => !run.counting.has(point) && !run.skipped.has(point)) ?? null;
}

/** How many points stand how. */
export interface ContinuityTally extends Record<PointVerdict, number> {
  points: number;
  skipped: number;
  left: number;
}

export function continuityTally(run: ContinuityRun): ContinuityTally {
  const tally = { 'as-expected': 0, 'not-as-expected': 0, 'cannot-tell': 0 };
  for (const at of run.counting.values()) {
    const verdict = run.readings.get(at)?.verdict;
    if (verdict) tally[verdict]++;
  }
  const skipped = run.skipped.size;
  const points = run.points.length;
  return { ...tally, points, skipped, left: points - run.counting.size - skipped };
}

/** How a run stands: `as-expected` where every point is; `unsure` where all were gone through and something cannot be told or was skipped. */
export type ContinuityOutlook = 'under-way' | 'as-expected' | 'not-as-expected' | 'unsure';

export function continuityOutlook(run: ContinuityRun): ContinuityOutlook {
  const tally = continuityTally(run);
  if (tally['not-as-expected'] > 0) return 'not-as-expected';
  if (tally.left > 0) return 'under-way';
  return tally['cannot-tell'] > 0 || tally.skipped > 0 ? 'unsure' : 'as-expected';
}

/** The step of the job a run has come to. */
export type ContinuityStep = 'connect' | 'cautions' | 'check' | 'measure' | 'decide' | 'certify';

/**
 * Which step comes next. Checks are due before the first reading, after as many readings as the run asks for, whenever the meter was
 * away, and behind the last reading: a lead that broke meanwhile would make every open point look good.
 */
export function continuityStep(run: ContinuityRun): ContinuityStep {
  if (run.decided) return 'certify';
  const isDone = nextPoint(run) === null;
  if (isDone && isProven(run)) return 'decide';
  if (!run.meter) return 'connect';
  if (!run.cautioned) return 'cautions';
  return areChecksDue(run) ? 'check' : 'measure';
}

/** Whether no further reading may be taken before the leads were checked. */
export function areChecksDue(run: ContinuityRun): boolean {
  if (!areLeadsGood(run)) return true;
  return unprovenReadings(run) >= run.checksEveryReadings || (nextPoint(run) === null && unprovenReadings(run) > 0);
}

/**
 * The check that comes next: the next of a round that is not whole, else the first of a new one. One that has passed may be done
 * again, with all that follow it.
 */
export function leadCheckDue({ round, readings, lastGood }: ContinuityRun): LeadCheckName {
  const isClosed = round.length === LEAD_CHECKS.length && readings.size > lastGood;
  return isClosed ? LEAD_CHECKS[0] : (LEAD_CHECKS[round.length] ?? LEAD_CHECKS[0]);
}

/** Whether a run is practice on the simulated bench. */
export function isContinuityPractice({ meter }: Pick<ContinuityRun, 'meter'>): boolean {
  return meter?.identity.simulated ?? false;
}
