import { mustBeProven } from '../inspection/decide.ts';
import type { Run } from '../inspection/run.ts';
import { problem } from '../problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { closed } from './closedFile.ts';
import { cellsOf } from './csv.ts';
import { COLUMNS } from './format.ts';
import { type About, rowsOf } from './rowsOf.ts';

/**
 * The certificate of a decided run: the whole text of its CSV file (see format.ts), to be kept as UTF-8.
 * @param tell told of readings, figures and rows as they are done
 * @throws problems run-undecided; and those of `mustBeProven` for a lot that was decided before checks of the bench were
 *   recorded, which no certificate of this format can say
 */
export function certificateOf(run: Run, about: About, tell: TellProgress = TELL_NOBODY): string {
  if (!run.decided) throw problem('run-undecided');
  if (run.decided.disposition !== 'on-hold') mustBeProven(run, run.decided.at);
  return closed([[...COLUMNS], ...rowsOf(run, about, tell).map(cellsOf)], tell);
}
