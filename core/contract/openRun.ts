import { Unpacking } from '../inspection/packedRun.ts';
import type { Run } from '../inspection/run.ts';
import type { StationClient } from './contract.ts';

/** A run and the place in the record of the last entry that is folded into it. */
export interface OpenedRun {
  run: Run;
  position: number;
}

/** How far the opening of a run has come, in readings. */
export interface Opening {
  read: number;
  of: number;
}

/**
 * Fetches a run from the station, as it is now. What happens in it from then on is told as news.
 * The next page is asked for before the one that is there is unpacked, so that the station packs meanwhile.
 * @param tell called after each page but the last one; what it throws ends the fetching
 * @throws Problem of the station; what `tell` throws
 */
export async function openRun(
  { ask }: Pick<StationClient, 'ask'>,
  number: number,
  tell: (opening: Opening) => void = () => undefined,
): Promise<OpenedRun> {
  const { position, head, page: first } = await ask('open-run', { run: number });
  const unpacking = new Unpacking(head);
  let page = first;
  for (;;) {
    const from = page.from + page.count;
    const next = from < head.readingCount ? ask('page-of-run', { run: number, position, from }) : null;
    // Should unpacking fail, nobody waits for it.
    next?.catch(() => undefined);
    unpacking.add(page);
    if (next === null) return { run: unpacking.run(), position };
    tell({ read: unpacking.size, of: head.readingCount });
    page = (await next).page;
  }
}
