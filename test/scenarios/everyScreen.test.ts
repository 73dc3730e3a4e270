import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { keepPicture, look } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { reelohm } from '../reelohm.ts';
import { makeReady, openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

/** Every screen by its address, and what it shows once it is there. Run 1 is decided, run 2 is being measured. */
const SCREENS = [
  ['runs', '#/', 'Runs'],
  ['receive', '#/receive', 'Receive a lot'],
  ['study', '#/study', 'Study of the measurement'],
  ['stress', '#/stress', 'Before and after a treatment'],
  ['parts', '#/parts', 'Parts'],
  ['continuity', '#/continuity', 'Continuity'],
  ['measure', '#/run/2', 'Measure'],
  ['worth', '#/run/2/worth', 'What this reading is worth'],
  ['figures', '#/run/2/figures', 'Figures of the lot'],
  ['certify', '#/run/1', 'Certify the lot'],
  ['lots', '#/run/1/lots', 'Lots of TF-4K7-1 from Example Supply'],
] as const;

/** The widest of bench screens, and the usual one magnified to 200 % (WCAG 2.2, 1.4.4 and 1.4.10). */
const SIZES = [
  ['4k', { width: 3840, height: 2160 }],
  ['magnified', { width: 640, height: 360 }],
] as const;

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
    await press('Space');
    await page.getByText(`${piece} of 20 measured`).first().waitFor();
  }

  for (const each of LOOKS) {
    await choose(page, each);
    for (const [name, hash, title] of SCREENS) {
      await show(page, hash, title);
      await look(page, `every-${name}-${each.toLowerCase().replace(' ', '-')}`);
      expect.soft(await tooSmall(page), `what is pressed on ${name}`).toEqual([]);
    }
  }
  for (const [size, viewport] of SIZES) {
    await page.setViewportSize(viewport);
    for (const [name, hash, title] of SCREENS) {
      await show(page, hash, title);
      await keepPicture(page, `every-${name}-${size}`);
      const fits = await page.evaluate('document.documentElement.scrollWidth <= document.documentElement.clientWidth');
      expect.soft(fits, `${name}, ${size}: nothing to scroll sideways for`).toBe(true);
      await expect.poll(() => cutOff(page), { message: `figures of charts on ${name}, ${size}` }).toEqual([]);
    }
  }
});

async function show(page: Page, hash: string, title: string): Promise<void> {
  await page.evaluate(`location.hash = '${hash}'`);
  await page.getByRole('heading', { name: title }).first().waitFor();
  // Charts and statistics are fetched when they are first needed.
  await page.waitForLoadState('networkidle');
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
