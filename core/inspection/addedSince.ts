import type { Reading, Run } from './run.ts';

type Known = Pick<Run, 'readings' | 'tally'>;

/**
 * The readings that a run has more than it had, in order, at the cost of these only; null where an earlier reading is not as
 * it was (voided or suspect since), so that what was made of the earlier ones must be made anew.
 * @param before the same run as it was, after fewer events or as many
 */
export function addedSince(before: Known, now: Known): Iterable<Reading> | null {
  // Voids and suspects are never taken back, so that equal counts say that nothing of what was there has changed.
  const same = before.tally.voided === now.tally.voided && before.tally.suspect === now.tally.suspect;
  if (!same || now.readings.size < before.readings.size) return null;
  return now.readings.slice(before.readings.size);
}
