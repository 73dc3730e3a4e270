import type { Run } from './run.ts';

/** A run as far as it tells whether earlier readings are as they were. */
export interface Known {
  readings: Pick<Run['readings'], 'size'>;
  tally: Pick<Run['tally'], 'voided' | 'suspect'>;
}

/**
 * Whether a run has only readings more than it had; false where an earlier reading is not as it was (voided or suspect since), so
 * that what was made of the earlier ones must be made anew.
 * @param before the same run as it was, after fewer events or as many
 */
export function onlyAdded(before: Known, now: Known): boolean {
  // Voids and suspects are never taken back, so that equal counts say that nothing of what was there has changed.
  const same = before.tally.voided === now.tally.voided && before.tally.suspect === now.tally.suspect;
  return same && now.readings.size >= before.readings.size;
}
