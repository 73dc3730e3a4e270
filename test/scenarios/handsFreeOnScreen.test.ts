import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { VERDICTS, type Verdict } from '../../core/window/judge.ts';
import { SOUNDS, type SoundName, soundOf } from '../../renderer/sound/sounds.ts';
import { keepPicture, look } from '../chromium.ts';
import { atCheck, type Job, makeReady, openStation, showReady } from '../screens.ts';
import { asOnScreen, whatDoesNotFit } from './fitsOnScreen.ts';
import { type Observed, observe, observedOn } from './observedPage.ts';

/** A piece may take so long on the loaded machine of a test. */
const PIECE_MILLISECONDS = 30_000;
/** From news to sound. */
const MOST_MILLISECONDS = 100;

/** From the start page to the first piece of the example lot, on the simulated bench. */
async function readyToMeasure(job: Job, level?: string): Promise<void> {
  const { page, press } = job;
  await press('n');
  await page.getByLabel('Inspector').and(page.locator(':focus')).waitFor();
  await press('Shift+Tab', 'Enter');
  await page.getByText('Measure 20 of 5 000 pieces').first().waitFor();
  if (level !== undefined) {
    await page.getByLabel('Inspection level', { exact: true }).selectOption(level);
    await page.getByText('Measure 20 of').first().waitFor({ state: 'detached' });
  }
  await page.getByRole('button', { name: 'Receive the lot' }).click();
  await makeReady(job);
}

/** By keys: how readings are taken is asked for, hands-free chosen. @param lookAt is told the open dialog */
async function goHandsFree({ page, press }: Job, lookAt: () => Promise<void> = async () => {}): Promise<void> {
  await press('m');
  await page.getByRole('radio', { name: 'Each by key' }).and(page.locator(':focus')).waitFor();
  await press('ArrowDown');
  await page.getByRole('radio', { name: 'Hands-free' }).and(page.locator(':checked')).waitFor();
  await lookAt();
  await press('Enter');
  await page.locator('.phase').waitFor();
}

/** How many readings of the run have been told to the page. */
async function readings(page: Page): Promise<number> {
  const { news } = await observedOn(page);
  return news.filter(({ what }) => isVerdict(what)).length;
}

const isVerdict = (what: string) => (VERDICTS as readonly string[]).includes(what);

async function untilRead(page: Page, count: number): Promise<void> {
  await expect
    .poll(() => readings(page), { timeout: count * PIECE_MILLISECONDS, interval: 100 })
    .toBeGreaterThanOrEqual(count);
}

/** The sound that belongs to a piece of news; null where there is none. */
function soundFor(what: string): SoundName | null {
  if (isVerdict(what)) return soundOf(what as Verdict);
  if (what === 'live contact') return 'contact';
  if (what === 'live trouble') return 'trouble';
  return what === 'live open-said' ? 'heard' : null;
}

/** For each news that is to be heard: how long after it its first tone sounds, in milliseconds. */
function latencies({ news, tones }: Observed): number[] {
  return news.flatMap(({ at, what }) => {
    const sound = soundFor(what);
    if (sound === null) return [];
    const [first] = SOUNDS[sound];
    const tone = tones.find((begun) => begun.at >= at && begun.hertz === first?.hertz);
    expect(tone, `${what} at ${at}`).toBeDefined();
    return tone ? [tone.at + tone.after - at] : [];
  });
}

it('measures a lot hands-free from receiving it to its certificate, and sounds for every piece', async (test) => {
  const job = await openStation(test, 'light', undefined, (page) => observe(page, true));
  const { page, press } = job;
  await readyToMeasure(job);
  await page.getByRole('button', { name: 'Sound and look' }).click();
  await page.getByLabel('Speak verdict and value of each reading').check();
  await look(page, 'hands-free-1-sound-and-look');
  await press('Escape');
  await page.getByRole('button', { name: 'Take reading' }).focus();
  await goHandsFree(job, () => look(page, 'hands-free-2-choose'));
  const keysBefore = (await observedOn(page)).keys.length;

  await page.getByRole('heading', { name: 'Check the bench again' }).waitFor({ timeout: 20 * PIECE_MILLISECONDS });
  const observed = await observedOn(page);
  expect(observed.keys.length).toBe(keysBefore);
  expect(observed.news.filter(({ what }) => isVerdict(what)).length).toBe(20);
  expect(observed.news.filter(({ what }) => what === 'live contact').length).toBeGreaterThanOrEqual(20);
  const late = latencies(observed).toSorted((a, b) => a - b);
  console.info(`from news to sound: ${late.length} sounds, longest ${late.at(-1)?.toFixed(1)} ms`);
  expect(late.length).toBeGreaterThanOrEqual(40);
  expect(late.at(-1)).toBeLessThan(MOST_MILLISECONDS);
  expect(observed.spoken.length).toBe(20);
  for (const words of observed.spoken)
    expect(words).toMatch(/^(Pass|Fail|Conditional|Open)[a-z ]*\. [\d.]+ kilo-ohms\.$/);

  await atCheck(page, 'The meter');
  await showReady(page);
  await page.getByRole('heading', { name: 'Decide the lot' }).waitFor();
  await expect
    .poll(async () => {
      await press('Enter');
      return page.getByRole('heading', { name: 'Certify the lot' }).isVisible();
    })
    .toBe(true);
  await press('Enter');
  await page.getByText('SHA-256').waitFor();
  const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
  expect(verifyCertificate(readFileSync(file))).toMatchObject({ run: 1, simulated: true });
}, 600_000);

it('voids the last reading by one key and its reason, and goes on hands-free', async (test) => {
  const job = await openStation(test, 'light', undefined, (page) => observe(page));
  const { page, press } = job;
  await readyToMeasure(job);
  await goHandsFree(job);
  await untilRead(page, 3);
  await press('v');
  const dialog = page.getByRole('dialog');
  await dialog.waitFor();
  const title = (await dialog.getByRole('heading').textContent()) ?? '';
  const piece = Number(/piece (\d+)/.exec(title)?.[1]);
  await look(page, 'hands-free-5-void');
  // A dialog pauses it: nothing counts behind it.
  const before = await readings(page);
  await page.waitForTimeout(1500);
  expect(await readings(page)).toBe(before);
  await press('2');
  await dialog.waitFor({ state: 'hidden' });
  await untilRead(page, before + 2);
  expect(await page.locator('.phase').isVisible()).toBe(true);
  await press('m', 'ArrowUp', 'Enter');
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  // Both stand in the record, and the piece was the next to be measured.
  const { events } = await observedOn(page);
  const voided = events.findIndex(({ type }) => type === 'reading-voided');
  expect(events[voided]).toMatchObject({ reason: 'It was the wrong piece', by: 'Newcomer' });
  const taken = events.filter(({ type }) => type === 'reading-taken');
  expect(taken.find(({ reading }) => reading === events[voided]?.reading)).toMatchObject({ piece });
  expect(events.slice(voided).find(({ type }) => type === 'reading-taken')).toMatchObject({ piece });
}, 600_000);

const PARTS = [
  '.measure-next',
  '.measure-tally',
  '.reading',
  '.reading',
  '.reading-of',
  '.reading-value',
  '.reading-word',
  '.phase',
  '.phase-large',
  '.phase-to-do',
  '.live-level',
  '.window-bar-large',
  '.measure-closer .action',
  '.measure-actions > .action',
  '.charts',
];

const SCREENS = [
  { width: 1280, height: 720, zoom: 1 },
  { width: 3840, height: 2160, zoom: 1 },
  { width: 1280, height: 720, zoom: 2 },
] as const;

/** What is to be seen without scrolling on the smallest screen this is made for. */
const AT_A_GLANCE = ['.measure-next', '.measure-tally', '.reading', '.phase', '.window-bar-large'];

/** Where the lower end of each of these lies, in pixels from the top of the page. */
function lowerEnds(page: Page): Promise<number[]> {
  return page.evaluate(`
    scrollTo(0, 0);
    ${JSON.stringify(AT_A_GLANCE)}.map((name) => document.querySelector(name).getBoundingClientRect().bottom)`);
}

it('fits screens of all sizes, light and dark, with usual and with more contrast', async (test) => {
  const job = await openStation(test, 'light', undefined, (page) => observe(page));
  const { page, press } = job;
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await readyToMeasure(job, 'III');
  await goHandsFree(job);
  await untilRead(page, 2);
  for (const contrast of ['Usual', 'More contrast']) {
    await page.getByRole('button', { name: 'Sound and look' }).click();
    await page.getByRole('radio', { name: contrast }).check();
    await press('Escape');
    for (const scheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme: scheme });
      const name = `hands-free-4-${scheme}${contrast === 'Usual' ? '' : '-contrast'}`;
      for (const { width, height, zoom } of SCREENS) {
        await asOnScreen(page, width, height, zoom);
        await page.locator('.reading-value').waitFor();
        const screen = `${name}-${width}x${height}${zoom === 1 ? '' : `-zoom-${zoom}`}`;
        // A chart takes a moment to follow its room.
        await expect.poll(() => whatDoesNotFit(page, PARTS), { message: screen, timeout: 5000 }).toEqual([]);
        if (width === 1280 && zoom === 1) {
          for (const bottom of await lowerEnds(page)) expect.soft(bottom, screen).toBeLessThanOrEqual(height);
          await look(page, screen);
        } else {
          await keepPicture(page, screen);
        }
      }
    }
  }
  // The lot is not through: all pictures are of measuring.
  expect(await page.locator('.phase').isVisible()).toBe(true);
}, 600_000);

it('says what happens in figures and words that are read from two metres', async (test) => {
  const job = await openStation(test, 'light', undefined, (page) => observe(page));
  const { page } = job;
  await readyToMeasure(job);
  await goHandsFree(job);
  await untilRead(page, 2);
  await page.locator('.reading-verdict .verdict-mark').first().waitFor();
  const heights: number[] = await page.evaluate(`
    ['.reading-value', '.reading-verdict .verdict-mark', '.phase-words'].map(
      (name) => document.querySelector(name).getBoundingClientRect().height / innerHeight)`);
  for (const height of heights) expect(height).toBeGreaterThan(0.09);
}, 300_000);
