import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { keepPicture, look } from '../chromium.ts';
import { atCheck, openStation, showReady } from '../screens.ts';
import { asOnScreen, whatDoesNotFit } from './fitsOnScreen.ts';
import {
  goHandsFree,
  isVerdict,
  latencies,
  MOST_MILLISECONDS,
  PIECE_MILLISECONDS,
  readyToMeasure,
  untilRead,
} from './handsFreeJob.ts';
import { observe, observedOn } from './observedPage.ts';

/** Hands that take two pieces a second, which is as fast as this is made for. */
const QUICK = { seed: 7, lot: { shareOpen: 0, shareWrong: 0 }, hands: { piecesPerSecond: 2 } };
/** Hands so slow that no check of the bench comes due while every screen is looked at, and no open piece ends the lot. */
const SLOW = { ...QUICK, hands: { piecesPerSecond: 0.2 } };

it('measures a lot hands-free from receiving it to its certificate, and sounds for every piece', async (test) => {
  const bench = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: QUICK });
  onTestFinished(() => bench.close());
  const job = await openStation(test, 'light', undefined, (page) => observe(page, true));
  const { page, press } = job;
  await readyToMeasure(job, { address: bench.address });
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
  const late = latencies(observed);
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
      // On the next screen the same key would write the certificate, and the one after would leave it.
      if (await page.getByRole('heading', { name: 'Decide the lot' }).isVisible()) await press('Enter');
      return page.getByRole('heading', { name: 'Certify the lot' }).isVisible();
    })
    .toBe(true);
  await press('Enter');
  await page.getByText('SHA-256').waitFor();
  const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
  expect(verifyCertificate(readFileSync(file))).toMatchObject({ run: 1, simulated: true });
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
const AT_A_GLANCE = ['.measure-next', '.measure-tally', '.reading', '.phase', '.window-bar-large', '.measure-actions'];

/** Where the lower end of each of these lies, in pixels from the top of the page. */
function lowerEnds(page: Page): Promise<number[]> {
  return page.evaluate(`
    scrollTo(0, 0);
    ${JSON.stringify(AT_A_GLANCE)}.map((name) => document.querySelector(name).getBoundingClientRect().bottom)`);
}

/** What is read from two metres, and how high it is at the least, as a share of the screen's height. */
const FROM_TWO_METRES = ['.reading-value', '.reading-verdict .verdict-mark', '.phase-words'];
const LEAST_HEIGHT = 0.09;

it('fits screens of all sizes, light and dark, with usual and with more contrast, and is read from two metres', async (test) => {
  const bench = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: SLOW });
  onTestFinished(() => bench.close());
  const job = await openStation(test, 'light', undefined, (page) => observe(page));
  const { page, press } = job;
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await readyToMeasure(job, { level: 'III', address: bench.address });
  await goHandsFree(job);
  await untilRead(page, 2);
  await page.locator('.reading-verdict .verdict-mark').first().waitFor();
  const heights: number[] = await page.evaluate(`
    ${JSON.stringify(FROM_TWO_METRES)}.map((name) => document.querySelector(name).getBoundingClientRect().height / innerHeight)`);
  for (const height of heights) expect(height).toBeGreaterThan(LEAST_HEIGHT);
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
