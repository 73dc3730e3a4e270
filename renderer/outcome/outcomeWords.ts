import type { CheckName, Outcome } from '../../core/readiness/check.ts';

/** How a check of the bench came out, as it is said. */
export const OUTCOME_WORDS: Record<Outcome, string> = {
  passed: 'Passed',
  failed: 'Failed',
  'by-word': 'By word',
  waived: 'Waived',
};

/** The checks of the bench by name. */
export const CHECK_TITLES: Record<CheckName, string> = {
  meter: 'The meter',
  'open-leads': 'Open leads',
  'shorted-leads': 'Shorted leads',
  'no-voltage': 'No voltage on the fixture',
  reference: 'Reference resistor',
  method: 'Range and method',
  ambient: 'Ambient temperature',
};
