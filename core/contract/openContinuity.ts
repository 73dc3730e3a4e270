import { applyContinuity } from '../continuity/apply.ts';
import type { ContinuityRun } from '../continuity/continuityRun.ts';
import { problem } from '../problem/problem.ts';
import type { ContinuityEntry } from './contract.ts';

/** The run that its entries make. @throws problem run-unknown where there are none */
export function foldContinuityEntries(entries: readonly ContinuityEntry[]): ContinuityRun {
  let run: ContinuityRun | null = null;
  for (const { event } of entries) run = applyContinuity(run, event);
  if (run === null) throw problem('run-unknown', 0);
  return run;
}
