import { expect, test } from 'vitest';
import { settingFor } from '../../../core/capture/setting.ts';
import { type Happened, play } from './play.ts';
import { headOf, type RecordedHead, readingsIn, runOfHead } from './recordedStream.ts';

/** What the contacts of one placing add to the shorted leads, in ohms: the bench spreads them by 2 mΩ. */
const CONTACT_OHMS = 0.01;

/**
 * Each file was recorded over the real serial stack from the simulated bench and its hands, by recorded/recordStreams.ts. The hands
 * went on from piece to piece whatever was made of it, so a piece that did not count is not seen again.
 * @param most so many pieces may not have counted, and were told: the machine was busy, or they were like the one before
 */
test.each([
  ['twoASecondSlipping', 55, 0],
  ['openPieces', 12, 0],
  ['fewOhms', 24, 2],
  ['megohms', 22, 0],
  ['highMegohms', 7, 0],
  ['busyMachine', 50, 5],
])('%s: no piece counts twice, each in its order with its value, none is missed and not told', (name, fewest, most) => {
  const file = new URL(`recorded/${name}.txt`, import.meta.url);
  const head = headOf(file);
  const run = runOfHead(head);
  const setting = settingFor(run);
  const { happened } = play(readingsIn(file), setting);
  const deviation = Math.sqrt(run.scatter.squares / run.scatter.degreesOfFreedom);
  const { counted, told, wrong } = walked(happened, head, CONTACT_OHMS + Math.max(setting.driftOhms, 6 * deviation));

  expect(wrong).toEqual([]);
  expect(counted).toBeGreaterThanOrEqual(fewest);
  expect(told).toBeLessThanOrEqual(most);
});

/** Goes along the pieces as they were held: which of them counted, which were told not to count, and what is of no piece. */
function walked(happened: readonly Happened[], { pieces, shorted }: RecordedHead, mostOff: number) {
  const wrong: Happened[] = [];
  let [next, counted, told, toldSince] = [0, 0, 0, 0];
  for (const one of happened) {
    const { outcome, ohms } = one;
    if (outcome.kind === 'trouble') toldSince++;
    if (outcome.kind !== 'captured' && outcome.kind !== 'captured-open') continue;
    const off = (piece: number | null) =>
      piece === null || ohms === null ? (piece === ohms ? 0 : Number.NaN) : Math.abs(ohms - Number(shorted) - piece);
    // Of those it may be, the one that it is nearest to.
    const away = pieces.slice(next, next + toldSince + 1).map(off);
    const skipped = away.indexOf(Math.min(...away.filter((each) => each <= mostOff)));
    if (skipped < 0) wrong.push(one);
    next += skipped + 1;
    told += skipped;
    counted++;
    toldSince = 0;
  }
  return { counted, told, wrong };
}
