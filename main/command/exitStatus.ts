/** Exit statuses of the commands. `inspect`: 0, 1, 2; `verify`: 0, 1; others: 0, 2. */
export const exitStatus = {
  /** Accepted, intact, done. */
  good: 0,
  /** Not accepted, not intact. */
  bad: 1,
  /** Could not inspect, could not be done. */
  couldNot: 2,
} as const;
