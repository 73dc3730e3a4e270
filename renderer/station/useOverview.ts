import type { Answers } from '../../core/contract/contract.ts';
import type { Problem } from '../../core/problem/problem.ts';
import { useLookedUp } from './useLookedUp.ts';

const NOTHING_MORE = {};

/** The station's runs and folders; looked up again whenever something happened in a run. */
export function useOverview(): { overview: Answers['overview'] | null; problem: Problem | null } {
  const { found, problem } = useLookedUp('overview', NOTHING_MORE, 'entry');
  return { overview: found, problem };
}
