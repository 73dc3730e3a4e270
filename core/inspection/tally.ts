import { conforms, type Verdict } from '../window/judge.ts';

/** How many readings that count there are, by verdict. */
export interface Tally {
  counted: number;
  pass: number;
  conditionalPass: number;
  conditionalFailLow: number;
  conditionalFailHigh: number;
  failLow: number;
  failHigh: number;
  open: number;
  nonconforming: number;
  /** Of the nonconforming ones those of class A: open, short, wrong value. */
  classA: number;
  voided: number;
  /** Readings that do not count because a later check failed. */
  suspect: number;
}

export const EMPTY_TALLY: Tally = {
  counted: 0,
  pass: 0,
  conditionalPass: 0,
  conditionalFailLow: 0,
  conditionalFailHigh: 0,
  failLow: 0,
  failHigh: 0,
  open: 0,
  nonconforming: 0,
  classA: 0,
  voided: 0,
  suspect: 0,
};

/** Where each verdict is counted. */
export const TALLY_FIELDS = {
  pass: 'pass',
  'conditional-pass': 'conditionalPass',
  'conditional-fail-low': 'conditionalFailLow',
  'conditional-fail-high': 'conditionalFailHigh',
  'fail-low': 'failLow',
  'fail-high': 'failHigh',
  open: 'open',
} as const satisfies Record<Verdict, keyof Tally>;

/** The tally with one more reading of this verdict (`by` 1), or one fewer (`by` -1). */
export function count(tally: Tally, { verdict, classA }: { verdict: Verdict; classA: boolean }, by: 1 | -1): Tally {
  const field = TALLY_FIELDS[verdict];
  return {
    ...tally,
    counted: tally.counted + by,
    [field]: tally[field] + by,
    nonconforming: tally.nonconforming + (conforms(verdict) ? 0 : by),
    classA: tally.classA + (classA ? by : 0),
  };
}
