import { calibrationAt } from '../../core/accuracy/calibration.ts';
import { type BenchCheck, checkDue, type Happening, type Run } from '../../core/inspection/run.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { CHECKS, type CheckName } from '../../core/readiness/check.ts';
import { unproven } from '../../core/readiness/round.ts';
import { counted, formatCount } from './count.ts';

/** How a check came out last; null when it was never done. */
export function lastCheck(run: Pick<Run, 'history'>, check: CheckName): (BenchCheck & Happening) | null {
  const found = run.history.findLast((happening) => happening.kind === 'check' && happening.check === check);
  return found?.kind === 'check' ? found : null;
}

/** After how many readings the bench was shown to be good, whole rounds only, in order and without repeats. */
export function goodAfter({ history }: Pick<Run, 'history'>): number[] {
  const places = history.filter(isEndOfRound).map(({ afterReading }) => afterReading);
  return [...new Set(places)];
}

/** After how many readings the bench was shown to be good last; undefined before it was. */
export function lastGoodAfter({ history }: Pick<Run, 'history'>): number | undefined {
  return history.findLast(isEndOfRound)?.afterReading;
}

/** Whether a happening completes a round of checks: the last of them that did not fail. */
function isEndOfRound(one: Happening): boolean {
  return one.kind === 'check' && one.check === CHECKS.at(-1) && one.outcome !== 'failed';
}

/** When the bench was shown to be good: `before the first reading`, `after reading 50`. */
export function afterWords(afterReading: number): string {
  return afterReading === 0 ? 'before the first reading' : `after reading ${formatCount(afterReading)}`;
}

/** When the checks are due next, in a few words; null once the lot is decided. */
export function nextCheckWords(run: Run): string | null {
  if (run.decided) return null;
  if (checkDue(run) !== null) return 'check due now';
  const left = run.checks.everyReadings - unproven(run);
  return `next check in ${counted(left, 'reading', 'readings')}`;
}

/** The zero: what the shorted leads showed and whether it is subtracted; null before it was read. */
export function zeroWords({ shortedOhms, measurement }: Pick<Run, 'shortedOhms' | 'measurement'>): string | null {
  if (shortedOhms === null) return null;
  const shown = formatOhms(shortedOhms).replace(' ', '\u00a0');
  return measurement.method === '2-wire' ? `${shown} subtracted` : `${shown} in 4-wire, not subtracted`;
}

/** How the calibration of the meter stands, at a point in time; null for the simulated bench and where there is no meter. */
export function calibrationWords(run: Pick<Run, 'meter' | 'overridden'>, at: string): string | null {
  if (!run.meter || run.meter.identity.simulated) return null;
  const { why } = calibrationAt(run.meter, at);
  return run.overridden ? `${why}; overridden by ${run.overridden.by}: ${run.overridden.reason}` : why;
}

/** As {@link calibrationWords}, in a few words where all is well. */
export function calibrationInShort(run: Pick<Run, 'meter' | 'overridden'>, at: string): string | null {
  if (run.overridden) return `calibration overridden by ${run.overridden.by}`;
  const { data } = run.meter ?? {};
  const inDate = run.meter && calibrationAt(run.meter, at).state === 'in-date';
  return inDate && data && !run.meter?.identity.simulated
    ? `calibration due ${data.calibration.due}`
    : calibrationWords(run, at);
}

/** All checks that were done, in order. */
export function checksDone({ history }: Pick<Run, 'history'>): (BenchCheck & { afterReading: number })[] {
  return history.toArray().flatMap((one) => (one.kind === 'check' ? [one] : []));
}
