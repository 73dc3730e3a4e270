import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { VERDICTS, type Verdict } from '../../core/window/judge.ts';
import { SOUNDS, type SoundName, soundOf } from '../../renderer/sound/sounds.ts';
import { type Job, makeReady } from '../screens.ts';
import { type Observed, observedOn } from './observedPage.ts';

/** A piece may take so long on the loaded machine of a test. */
export const PIECE_MILLISECONDS = 30_000;
/** From news to sound. */
export const MOST_MILLISECONDS = 100;

/**
 * From the start page to the first piece of the example lot, on a simulated bench.
 * @param level of inspection; the usual one where it is left out
 * @param address of a bench that is served elsewhere; the station's own where it is left out
 */
export async function readyToMeasure(
  job: Job,
  { level, address, alike = false }: { level?: string; address?: string; alike?: boolean } = {},
) {
  const { page, press } = job;
  await press('n');
  await page.getByLabel('Inspector').and(page.locator(':focus')).waitFor();
  await press('Shift+Tab', 'Enter');
  await page.getByText('Measure 20 of 5 000 pieces').first().waitFor();
  if (level !== undefined) {
    await page.getByLabel('Inspection level', { exact: true }).selectOption(level);
    await page.getByText('Measure 20 of').first().waitFor({ state: 'detached' });
  }
  // An open piece does not end the lot then.
  if (alike) {
    await page.locator('summary').filter({ hasText: 'Wrong value' }).click();
    await page.getByRole('radio', { name: 'count as every nonconforming piece' }).check();
  }
  await page.getByRole('button', { name: 'Receive the lot' }).click();
  await makeReady(job, undefined, address);
}

/** By keys: how readings are taken is asked for, hands-free chosen. @param lookAt is told the open dialog */
export async function goHandsFree({ page, press }: Job, lookAt: () => Promise<void> = async () => {}): Promise<void> {
  await press('m');
  await page.getByRole('radio', { name: 'Each by key' }).and(page.locator(':focus')).waitFor();
  await press('ArrowDown');
  await page.getByRole('radio', { name: 'Hands-free' }).and(page.locator(':checked')).waitFor();
  await lookAt();
  await press('Enter');
  await page.locator('.phase').waitFor();
}

/** Whether a piece of news is the verdict of a reading. */
export const isVerdict = (what: string) => (VERDICTS as readonly string[]).includes(what);

/** How many readings of the run have been told to the page. */
export async function readings(page: Page): Promise<number> {
  const { news } = await observedOn(page);
  return news.filter(({ what }) => isVerdict(what)).length;
}

/** Waits until so many readings of the run have been told to the page. */
export async function untilRead(page: Page, count: number): Promise<void> {
  await expect
    .poll(() => readings(page), { timeout: count * PIECE_MILLISECONDS, interval: 100 })
    .toBeGreaterThanOrEqual(count);
}

/** The sound that belongs to a piece of news; null where there is none. */
export function soundFor(what: string): SoundName | null {
  if (isVerdict(what)) return soundOf(what as Verdict);
  if (what === 'live contact') return 'contact';
  if (what === 'live trouble') return 'trouble';
  return what === 'live open-said' ? 'heard' : null;
}

/** For each news that is to be heard: how long after it its first tone sounds, in milliseconds, the shortest first. */
export function latencies({ news, tones }: Observed): number[] {
  return news
    .flatMap(({ at, what }) => {
      const sound = soundFor(what);
      if (sound === null) return [];
      const [first] = SOUNDS[sound];
      const tone = tones.find((begun) => begun.at >= at && begun.hertz === first?.hertz);
      expect(tone, `${what} at ${at}`).toBeDefined();
      return tone ? [tone.at + Math.max(0, tone.after) - at] : [];
    })
    .toSorted((a, b) => a - b);
}
