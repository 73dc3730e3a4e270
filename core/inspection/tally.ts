import type { Verdict } from '../window/judge.ts';

/** How many readings that count there are, by verdict. */
export interface Tally {
  counted: number;
  pass: number;
  failLow: number;
  failHigh: number;
  open: number;
  nonconforming: number;
  voided: number;
  /** Readings that do not count because a later check failed. */
  suspect: number;
}

export const EMPTY_TALLY: Tally = {
  counted: 0,
  pass: 0,
  failLow: 0,
  failHigh: 0,
  open: 0,
  nonconforming: 0,
  voided: 0,
  suspect: 0,
};

const FIELD = { pass: 'pass', 'fail-low': 'failLow', 'fail-high': 'failHigh', open: 'open' } as const;

/** The tally with one more reading of this verdict (`by` 1), or one fewer (`by` -1). */
export function count(tally: Tally, verdict: Verdict, by: 1 | -1): Tally {
  const field = FIELD[verdict];
  return {
    ...tally,
    counted: tally.counted + by,
    [field]: tally[field] + by,
    nonconforming: tally.nonconforming + (verdict === 'pass' ? 0 : by),
  };
}
