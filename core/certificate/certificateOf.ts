import type { Run } from '../inspection/run.ts';
import { problem } from '../problem/problem.ts';
import { cellsOf, closed, csvOf } from './csv.ts';
import { type About, rowsOf } from './rowsOf.ts';

/**
 * The certificate of a decided run: the whole text of its CSV file (see format.ts), to be kept as UTF-8.
 * @throws problem run-undecided
 */
export function certificateOf(run: Run, about: About): string {
  if (!run.decided) throw problem('run-undecided');
  return closed(csvOf(rowsOf(run, about).map(cellsOf)));
}
