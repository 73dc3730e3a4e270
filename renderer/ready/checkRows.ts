import { type BenchCheck, checkDue, type Happening, type Run } from '../../core/inspection/run.ts';
import { CHECKS, type CheckName, type Outcome } from '../../core/readiness/check.ts';
import { isWhole, unproven } from '../../core/readiness/round.ts';
import { lastCheck } from '../words/bench.ts';

/** One check of the bench as the screen lists it. */
export interface CheckRow {
  check: CheckName;
  /** How it came out in the present round; `due`: it is its turn; `ahead`: those before it come first. */
  stands: Outcome | 'due' | 'ahead';
  /** How it came out last, in this round or before; null when it was never done. */
  last: BenchCheck | null;
}

/** The seven checks in order, as they stand in the present round. */
export function checkRows(run: Run): CheckRow[] {
  // Readings close a whole round: the next one begins with the first check.
  const closed = isWhole(run) && unproven(run) > 0;
  const reached = closed ? 0 : run.round.length;
  const failed = failedJustNow(run);
  return CHECKS.map((check, index) => {
    const last = lastCheck(run, check);
    if (index < reached) return { check, stands: last?.outcome ?? 'passed', last };
    if (index > reached) return { check, stands: 'ahead', last };
    return { check, stands: failed?.check === check ? 'failed' : 'due', last };
  });
}

/** The check whose turn it is, or where a new round would begin; null when all have passed and nothing came after. */
export function checkAtTurn(run: Run): CheckName | null {
  return checkDue(run) ?? (unproven(run) > 0 ? CHECKS[0] : null);
}

/** The check that failed and that nothing came after at the bench. */
function failedJustNow(run: Pick<Run, 'history'>): (BenchCheck & Happening) | null {
  const last = run.history.findLast(({ kind }) => kind === 'check' || kind === 'meter' || kind === 'lapsed');
  return last?.kind === 'check' && last.outcome === 'failed' ? last : null;
}
