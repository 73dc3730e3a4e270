import type { PackedReadings } from '../inspection/packedReadings.ts';
import { unpackRun } from '../inspection/packedRun.ts';
import type { Run } from '../inspection/run.ts';
import type { Answers, StationClient } from './contract.ts';

/** A run and the place in the record of the last entry that is folded into it. */
export interface OpenedRun {
  run: Run;
  position: number;
}

/** How far the opening of a run has come, in readings. */
export interface Opening {
  read: number;
  of: number;
  /** Not in readings but in entries: the station reads the record. */
  entries?: true;
}

/** So many answers are on their way at a time: the station makes one while this side reads another. */
const ON_THEIR_WAY = 2;

/**
 * Fetches a run from the station, as it is now. What happens in it from then on is told as news.
 * @param tell called after each answer but the last one; what it throws ends the fetching
 * @param work a name, by which is told how far the station has read the record, and by which that is stopped
 * @throws Problem of the station; what `tell` throws
 */
export async function openRun(
  { ask }: Pick<StationClient, 'ask'>,
  number: number,
  tell: (opening: Opening) => void = () => undefined,
  work?: string,
): Promise<OpenedRun> {
  const {
    position,
    head,
    pages: first,
  } = await ask('open-run', { run: number, ...(work === undefined ? {} : { work }) });
  const pages = [...first];
  const [of, step] = [head.readingCount, readIn(first)];
  const asked: Promise<Answers['pages-of-run']>[] = [];
  let from = step;
  while (readIn(pages) < of) {
    for (; from < of && asked.length < ON_THEIR_WAY; from += step) {
      const answer = ask('pages-of-run', { run: number, position, from });
      // Should an earlier one fail, nobody waits for it.
      answer.catch(() => undefined);
      asked.push(answer);
    }
    tell({ read: readIn(pages), of });
    const next = await asked.shift();
    if (!next) throw new Error(`an answer had fewer than ${step} readings`);
    pages.push(...next.pages);
  }
  return { run: unpackRun({ head, pages }), position };
}

/** How many readings there are up to the end of these pages. */
function readIn(pages: readonly PackedReadings[]): number {
  const last = pages.at(-1);
  return last === undefined ? 0 : last.from + last.count;
}
