import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { keepPicture, look } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { reelohm } from '../reelohm.ts';
import { makeReady, openStation, takeReading } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { asOnScreen, whatIsCut } from './fitsOnScreen.ts';

/** Every screen by its address, and a heading or a button that it shows once it is there. Run 1 is decided, run 2 is being measured. */
const SCREENS = [
  ['runs', '#/', 'Runs'],
  ['receive', '#/receive', 'Receive a lot'],
  ['study', '#/study', 'Study of the measurement'],
  ['stress', '#/stress', 'Before and after a treatment'],
  ['networks', '#/networks', 'Networks'],
  ['parts', '#/parts', 'Add a part'],
  ['continuity', '#/continuity', 'Continuity'],
  ['practice', '#/practice', 'Practice'],
  ['wiring', '#/wiring', 'Continuity runs'],
  ['history', '#/history', 'History'],
  ['trends', '#/history/trends?part=TF-4K7-1', 'Lot by lot'],
  ['record', '#/record', 'Check it'],
  ['measure', '#/run/2', 'Measure'],
  ['worth', '#/run/2/worth', 'What this reading is worth'],
  ['figures', '#/run/2/figures', 'Figures of the lot'],
  ['certify', '#/run/1', 'Certify the lot'],
  ['lots', '#/run/1/lots', 'Every lot'],
  ['print', '#/run/1/print', 'Certificate of run 1'],
] as const;

/** The widest of bench screens, and the usual ones magnified to 200 % (WCAG 2.2, 1.4.4 and 1.4.10). */
const SIZES = [
  ['4k', { viewport: { width: 3840, height: 2160 }, deviceScaleFactor: 1 }],
  ['magnified', { viewport: { width: 640, height: 360 }, deviceScaleFactor: 2 }],
  ['magnified-large', { viewport: { width: 960, height: 540 }, deviceScaleFactor: 2 }],
] as const;

/** What is seen without scrolling while measuring, on the smallest screen this is made for: 1280 × 720. */
const AT_A_GLANCE = ['.measure-next', '.measure-tally', '.reading-value', '.reading-verdict', '.measure-actions'];
/** Of the run chart, in pixels. */
const CHART_AT_A_GLANCE = 150;

const LOOKS = ['Light', 'Dark', 'More contrast'] as const;

/** Least width and height of what is pressed, in CSS pixels (WCAG 2.2, 2.5.8). */
const LEAST_TARGET = 24;

it('is clean on every screen, in every look, small and large', { timeout: 400_000 }, async (test) => {
  const data = temporaryFolder();
  const lot = join(data, 'lot.json');
  writeFileSync(lot, JSON.stringify(exampleLot({ sampleSize: 8, accept: 7 })));
  const { status, err } = await reelohm(['inspect', lot, '--meter', 'sim:7', '--data', data]);
  expect(status, err).toBe(0);

  const job = await openStation(test, 'light', data);
  const { page, press } = job;
  await press('n');
  await page.getByRole('button', { name: 'Fill in an example lot' }).click();
  await page.getByRole('button', { name: /^Receive the lot/ }).click();
  await makeReady(job);
  for (let piece = 1; piece <= 5; piece++) {
    await takeReading(job);
    await page.getByText(`${piece} of 20 measured`).first().waitFor();
  }
  for (const part of AT_A_GLANCE) expect.soft((await placeOf(page, part)).bottom, part).toBeLessThanOrEqual(720);
  expect.soft((await placeOf(page, '.charts')).top, 'the run chart').toBeLessThanOrEqual(720 - CHART_AT_A_GLANCE);
  for (const height of [720, 800, 1024]) {
    await asOnScreen(page, 1280, height);
    const actions = await placeOf(page, '.measure-actions');
    expect.soft(actions.bottom - actions.top, `the actions stand in one row, ${height}`).toBeLessThan(60);
    const [unit, mark] = [await placeOf(page, '.reading-unit'), await placeOf(page, '.reading-verdict')];
    expect.soft(unit.right, `the value ends before its verdict, ${height}`).toBeLessThanOrEqual(mark.left);
  }
  await asOnScreen(page, 1280, 720);

  for (const each of LOOKS) {
    await choose(page, each);
    for (const [name, hash, title] of SCREENS) {
      await show(page, hash, title);
      await look(page, `every-${name}-${each.toLowerCase().replace(' ', '-')}`);
      expect.soft(await tooSmall(page), `what is pressed on ${name}`).toEqual([]);
    }
  }
  for (const [size, screen] of SIZES) {
    const sized = await samePageOn(page, screen);
    for (const [name, hash, title] of SCREENS) {
      await show(sized, hash, title);
      await keepPicture(sized, `every-${name}-${size}`);
      expect.soft(await whatIsCut(sized), `${name}, ${size}`).toEqual([]);
      await expect.poll(() => cutOff(sized), { message: `figures of charts on ${name}, ${size}` }).toEqual([]);
    }
    await sized.context().close();
  }
});

/** The same station, in the same look, on another screen. */
async function samePageOn(page: Page, screen: (typeof SIZES)[number][1]): Promise<Page> {
  const context = await page
    .context()
    .browser()
    ?.newContext({
      ...screen,
      storageState: await page.context().storageState(),
    });
  if (!context) throw new Error('the browser is gone');
  const sized = await context.newPage();
  await sized.goto(page.url());
  return sized;
}

function placeOf(page: Page, part: string): Promise<Record<'top' | 'bottom' | 'left' | 'right', number>> {
  return page
    .locator(part)
    .first()
    .evaluate((element) => element.getBoundingClientRect().toJSON());
}

async function show(page: Page, hash: string, title: string): Promise<void> {
  await page.evaluate(`location.hash = '${hash}'`);
  await page
    .getByRole('heading', { name: title })
    .or(page.getByRole('button', { name: title }))
    .first()
    .waitFor();
  // Charts and statistics are fetched when they are first needed.
  await page.waitForLoadState('networkidle');
  await expect.poll(() => page.locator('[aria-busy="true"]').count()).toBe(0);
}

async function choose(page: Page, name: (typeof LOOKS)[number]): Promise<void> {
  await page.getByRole('button', { name: 'Sound and look' }).click();
  await page.getByRole('radio', { name, exact: true }).check();
  await page.keyboard.press('Escape');
}

/** Texts of charts that reach out of their drawing: a figure without its first digit is another figure. */
function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(`
    [...document.querySelectorAll('.chart-drawing')].flatMap((drawing) => {
      const room = drawing.getBoundingClientRect();
      return [...drawing.querySelectorAll('text')].flatMap((text) => {
        const { left, right } = text.getBoundingClientRect();
        return left < room.left - 1 || right > room.right + 1 ? [text.textContent] : [];
      });
    })
  `);
}

/** Buttons and fields that are smaller than a finger can do with; a label around a box is pressed as well as the box. */
function tooSmall(page: Page): Promise<string[]> {
  return page.evaluate(`
    [...document.querySelectorAll('button, select, input, summary')].flatMap((one) => {
      const { width, height } = (one.closest('label') ?? one).getBoundingClientRect();
      if (width === 0 || height === 0) return [];
      const around = -2 * (Number.parseFloat(getComputedStyle(one, '::after').inset) || 0);
      if (Math.min(width, height) + around >= ${LEAST_TARGET}) return [];
      return [(one.getAttribute('aria-label') || one.textContent || one.name) + ' ' + width + ' × ' + height];
    })
  `);
}
