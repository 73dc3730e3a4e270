import { setImmediate } from 'node:timers/promises';
import { type StoryLine, StoryTeller } from '../../core/inspection/story.ts';
import { problem } from '../../core/problem/problem.ts';
import type { Record } from '../record/record.ts';
import { foldOne, isOfInspection } from './foldOne.ts';
import type { GoingOn } from './longWorks.ts';

/** Entries gone through at one go: some thousandths of a second, for a meter that is being read meanwhile. */
const AT_ONE_GO = 250;

/**
 * The story of a run from its entries in the record, each of which is checked on the way.
 * @param of how many entries the run has, for who hears how far it is
 * @throws problems record-altered, work-stopped
 */
export async function storyOfRun(
  record: Pick<Record, 'entries'>,
  run: number,
  of: number,
  { tell, throwIfStopped }: Pick<GoingOn, 'tell' | 'throwIfStopped'>,
): Promise<StoryLine[]> {
  const teller = new StoryTeller(foldOne);
  const lines: StoryLine[] = [];
  let done = 0;
  for (const entry of record.entries(run)) {
    if (!isOfInspection(entry)) throw problem('continuity-not-such-a-run', run);
    lines.push(...teller.tell(entry));
    done++;
    if (done % AT_ONE_GO > 0) continue;
    // It may have gone on since it was counted.
    tell({ step: 'entries', done, of: Math.max(of, done) });
    await setImmediate();
    throwIfStopped();
  }
  return [...lines, ...teller.end()];
}
