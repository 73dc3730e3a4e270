import { problem } from '../problem/problem.ts';
import type { ClosedFormat } from './closedFile.ts';
import { COLUMNS, type Column, EARLIER_FORMATS, FORMAT, NUMERIC_COLUMNS } from './format.ts';

const NUMERIC: ReadonlySet<Column> = new Set(NUMERIC_COLUMNS);

/** How a certificate is closed and verified. */
export const CERTIFICATE: ClosedFormat = {
  name: FORMAT,
  earlier: EARLIER_FORMATS,
  columns: COLUMNS,
  isNumeric: COLUMNS.map((column) => NUMERIC.has(column)),
  inputs: 'the other rows',
  broken: (where, why) => problem('certificate-broken', where, why),
};
