import type { Reading } from '../../core/inspection/run.ts';
import type { Verdict } from '../../core/window/judge.ts';

/** How a reading stands: by its verdict, or suspect where a later check of the bench failed. */
export type Standing = Verdict | 'suspect';

/** How a reading stands, as it is said. */
export const VERDICT_WORDS: Record<Standing, string> = {
  pass: 'Pass',
  'conditional-pass': 'Conditional pass',
  'conditional-fail-low': 'Conditional fail low',
  'conditional-fail-high': 'Conditional fail high',
  'fail-low': 'Fail low',
  'fail-high': 'Fail high',
  open: 'Open',
  suspect: 'Suspect',
};

/** How a reading stands now. */
export function standingOf(reading: Pick<Reading, 'verdict' | 'suspect'>): Standing {
  return reading.suspect ? 'suspect' : reading.verdict;
}
