import type { ClosedFormat } from '../certificate/closedFile.ts';
import { problem } from '../problem/problem.ts';
import { EARLIER_STRESS_FORMATS, STRESS_COLUMNS, STRESS_FORMAT } from './stressFormat.ts';

/** How the file of a comparison is closed and verified; it has no form with a decimal comma. */
export const STRESS_CLOSED: ClosedFormat = {
  name: STRESS_FORMAT,
  earlier: EARLIER_STRESS_FORMATS,
  columns: STRESS_COLUMNS,
  isNumeric: STRESS_COLUMNS.map(() => false),
  inputs: 'the values',
  broken: (where, why) => problem('stress-broken', where, why),
};
