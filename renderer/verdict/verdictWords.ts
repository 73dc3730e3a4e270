import type { Verdict } from '../../core/window/judge.ts';

/** The verdict of a reading, as it is said. */
export const VERDICT_WORDS: Record<Verdict, string> = {
  pass: 'Pass',
  'fail-low': 'Fail low',
  'fail-high': 'Fail high',
  open: 'Open',
};

export const VERDICTS: readonly Verdict[] = ['pass', 'fail-low', 'fail-high', 'open'];
