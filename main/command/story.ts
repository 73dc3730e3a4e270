import type { StoryLine } from '../../core/inspection/story.ts';
import { exitStatus } from './exitStatus.ts';
import { tame } from './tame.ts';
import { runNumber } from './wholeNumber.ts';
import { telling, withStation } from './withStation.ts';

export interface StoryOptions {
  json?: boolean;
  data?: string;
}

const WORK = 'story';

/** Says all that happened in a run, from its entries in the record. */
export async function story(text: string, options: StoryOptions): Promise<number> {
  const run = runNumber(text);
  const lines = await withStation(options.data, (station) =>
    telling(station, WORK, `Reading what happened in run ${run}`, () =>
      station.ask('story-of-run', { run, work: WORK }),
    ),
  );
  for (const line of lines) console.log(options.json ? JSON.stringify({ type: 'story', run, ...line }) : textOf(line));
  return exitStatus.good;
}

/** A line as it is read: when, by whose clock, who, what. */
function textOf({ at, by, words }: StoryLine): string {
  const when = `${at.slice(0, 10)} ${at.slice(11, 19)} ${at.slice(-6)}`;
  return tame(`${when}  ${by === null ? '' : `${by}: `}${words.replaceAll('\u00a0', ' ')}`);
}
