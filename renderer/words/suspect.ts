import type { Run } from '../../core/inspection/run.ts';
import { CHECK_TITLES } from '../outcome/outcomeWords.ts';
import { formatLater } from './time.ts';

/** Why readings of this run became suspect the last time, as a sentence; empty where none did. */
export function suspectWhy(run: Run): string {
  const suspect = run.readings.findLast((reading) => reading.suspect !== null)?.suspect;
  if (!suspect) return '';
  const failed = run.history.findLast((happening) => happening.kind === 'check' && happening.at === suspect.at);
  const what = failed?.kind === 'check' ? `the check “${CHECK_TITLES[failed.check]}” failed` : suspect.why;
  return `Their readings are suspect: ${what} at ${formatLater(suspect.at, run.receivedAt)}.`;
}
