import type { Severity } from './singlePlan.ts';
import type { SwitchingLot } from './switching.ts';

/** Lots in a row that make tightened inspection normal, and the most among which two not accepted make normal inspection tightened. */
export const WINDOW = 5;
const NOT_ACCEPTED_IN_WINDOW = 2;

/** Not accepted since tightened inspection began, that discontinue it. */
export const MOST_NOT_ACCEPTED = 5;

/** What brought the present severity about. */
export type Cause =
  | { kind: 'start' }
  | { kind: 'override'; by: string; reason: string; afterDiscontinuation: boolean }
  | { kind: 'two-not-accepted'; of: number }
  | { kind: 'five-accepted' }
  | { kind: 'not-accepted-on-reduced' }
  | { kind: 'between-on-reduced'; nonconforming: number }
  | { kind: 'five-not-accepted' };

/** Where inspection stands while the lots are gone through; `counted` are those since the present severity or its counts began. */
export interface Standing {
  severity: Severity | 'discontinued';
  cause: Cause;
  causedBy: SwitchingLot[];
  counted: SwitchingLot[];
  score: number;
  /** Lots that the score rests on: those since it was last 0. */
  scoredLots: number;
  /** Inspected otherwise than the state asked, so that they say nothing: since the counts began. */
  uncounted: number;
}

/** A severity that begins now, with all counts anew. */
export function begun(severity: Standing['severity'], cause: Cause, causedBy: SwitchingLot[]): Standing {
  return { severity, cause, causedBy, counted: [], score: 0, scoredLots: 0, uncounted: 0 };
}

/** Takes the next lot into account, by the rules of switchingState. */
export function take(standing: Standing, lot: SwitchingLot): void {
  if (lot.override !== null) {
    const { severity, by, reason } = lot.override;
    const afterDiscontinuation = standing.severity === 'discontinued';
    const next = afterDiscontinuation ? 'tightened' : severity;
    Object.assign(standing, begun(next, { kind: 'override', by, reason, afterDiscontinuation }, [lot]));
  }
  if (lot.offeredAgain || standing.severity === 'discontinued') return;
  const endsReduced = standing.severity === 'reduced' && !lot.accepted;
  if (lot.severity !== standing.severity && !endsReduced) {
    standing.uncounted++;
    return;
  }
  standing.counted.push(lot);
  if (standing.severity === 'normal') addScore(standing, lot);
  const next = nextOf(standing, lot);
  if (next !== null) Object.assign(standing, next);
}

function nextOf(standing: Standing, lot: SwitchingLot): Standing | null {
  const { counted } = standing;
  switch (standing.severity) {
    case 'normal': {
      const window = counted.slice(-WINDOW);
      const bad = window.filter(({ accepted }) => !accepted);
      if (bad.length < NOT_ACCEPTED_IN_WINDOW) return null;
      const of = window.length - window.indexOf(bad[0] as SwitchingLot);
      return begun('tightened', { kind: 'two-not-accepted', of }, bad);
    }
    case 'tightened': {
      const bad = notAccepted(standing);
      if (bad.length >= MOST_NOT_ACCEPTED)
        return { ...begun('discontinued', { kind: 'five-not-accepted' }, bad), counted };
      const good = acceptedInARow(counted);
      return good.length >= WINDOW ? begun('normal', { kind: 'five-accepted' }, good) : null;
    }
    case 'reduced': {
      if (!lot.accepted) return begun('normal', { kind: 'not-accepted-on-reduced' }, [lot]);
      if (!isBetween(lot)) return null;
      return begun('normal', { kind: 'between-on-reduced', nonconforming: lot.nonconforming }, [lot]);
    }
    case 'discontinued':
      return null;
  }
}

/** Those not accepted since the counts began. */
export function notAccepted({ counted }: Standing): SwitchingLot[] {
  return counted.filter(({ accepted }) => !accepted);
}

/** The last ones, all accepted. */
export function acceptedInARow(counted: readonly SwitchingLot[]): SwitchingLot[] {
  return counted.slice(counted.findLastIndex(({ accepted }) => !accepted) + 1);
}

/** Accepted with a count strictly between the numbers of the sample that decided: reduced plans of MIL-STD-105E have such a gap. */
function isBetween({ standard, nonconforming, sampled, plan }: SwitchingLot): boolean {
  if (standard !== 'MIL-STD-105E') return false;
  const { accept, reject } = plan.second !== null && sampled > plan.sampleSize ? plan.second : plan;
  return nonconforming > accept && nonconforming < reject;
}

function addScore(standing: Standing, lot: SwitchingLot): void {
  const points = lot.standard === 'ISO 2859-1' ? pointsOf(lot) : null;
  standing.score = points === null ? 0 : standing.score + points;
  standing.scoredLots = standing.score === 0 ? 0 : standing.scoredLots + 1;
}

/** ISO 2859-1:1999, 9.3.3.2. Null: back to 0. */
function pointsOf({ accepted, everyPiece, sampled, plan }: SwitchingLot): number | null {
  if (!accepted) return null;
  if (everyPiece) return 0;
  if (plan.second !== null) return sampled <= plan.sampleSize ? 3 : null;
  if (plan.accept <= 1) return 2;
  return plan.acceptedAtNextTighterAql ? 3 : null;
}
