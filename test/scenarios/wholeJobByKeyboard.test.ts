import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { look, lookBothWays } from '../chromium.ts';
import {
  atCheck,
  type Job,
  makeReady,
  nextPiece,
  openStation,
  pieceAgain,
  showReady,
  takeReading,
} from '../screens.ts';
import { type TinyMeter, tinyMeter } from '../tinyMeter.ts';

/**
 * From the start page to the first piece, on the simulated bench, with the example lot. No mouse.
 * @param lookAt is told each screen on the way
 */
async function receiveAndMakeReady(
  { page, press }: Job,
  lookAt: (screen: string) => Promise<void> = async () => {},
): Promise<void> {
  await lookAt('1-runs');
  await press('n');
  await page.getByRole('heading', { name: 'Receive a lot' }).waitFor();
  await page.getByLabel('Inspector').and(page.locator(':focus')).waitFor();
  await press('Shift+Tab', 'Enter');
  await page.getByText('Measure 20 of 5 000 pieces').first().waitFor();
  await lookAt('2-receive');
  await press('Tab', 'Enter');

  await makeReady({ page, press }, lookAt);
}

/**
 * Shows a bench ready with a meter nobody knows the calibration of and without a reference: somebody overrides the one and
 * waives the other, with name and reason.
 */
async function showRealReady(page: Page, meter: TinyMeter): Promise<void> {
  /** Presses a key again until the check has come so far: one that comes too soon after the last is not taken. */
  const until = async (key: string, shown: () => Promise<boolean>) => {
    await expect
      .poll(
        async () => {
          if (!(await shown())) await page.keyboard.press(key);
          return shown();
        },
        { interval: 200, timeout: 20_000 },
      )
      .toBe(true);
  };
  const isPast = (title: string) => async () => {
    const now = page.locator('.check[aria-current="step"]').filter({ hasText: title });
    return (await now.count()) === 0;
  };
  const reads = async (title: string, ohms: string) => {
    meter.ohms = ohms;
    await atCheck(page, title);
    await until('Enter', isPast(title));
  };
  await atCheck(page, 'The meter');
  await page.keyboard.press('Enter');
  await page.getByRole('alert').filter({ hasText: 'calibration of this meter' }).waitFor();
  await look(page, 'real-1-calibration');
  await page.getByLabel('Or override: reason').fill('compared this morning');
  await page.keyboard.press('Enter');
  await reads('Open leads', '+9.9E+37');
  await reads('Shorted leads', '+1.0E-01');
  await reads('No voltage on the fixture', '+1.0E-01');
  await page.getByRole('radio', { name: 'None: waive this check' }).check();
  await page.getByLabel('Why this check is waived').fill('at the laboratory');
  await until('Enter', isPast('Reference resistor'));
  await atCheck(page, 'Ambient temperature');
  await page.keyboard.type('23');
  meter.ohms = '+4.7012E+03';
  await until('Enter', async () => (await page.locator('.check').count()) === 0);
}

/** Takes readings with the space bar until the plan needs no more, or so many; returns how many. */
async function measure(job: Job, most = Number.POSITIVE_INFINITY): Promise<number> {
  const { page } = job;
  let taken = 0;
  while (taken < most) {
    await takeReading(job);
    taken += 1;
    const next = nextPiece(page, taken + 1);
    await next
      .or(page.getByRole('heading', { name: 'Check the bench again' }))
      .first()
      .waitFor();
    if (!(await next.isVisible())) break;
  }
  return taken;
}

const LOOKED_AT = { worth: 'What this reading is worth', figures: 'Figures of the lot' } as const;

/** Opens what can be looked at beside measuring by its key, and comes back by another; nothing is read or lost meanwhile. */
async function lookCloser({ page, press }: Job, key: string, view: 'worth' | 'figures'): Promise<void> {
  const value = await page.locator('.reading-value').textContent();
  await press(key);
  await page.waitForURL((url) => url.hash === `#/run/1/${view}`);
  // The measuring screen has such a heading as well, and stays until the other one is there.
  await page.getByRole('heading', { level: 1, name: LOOKED_AT[view] }).waitFor();
  await look(page, `light-5-${view}`);
  // No piece is on the probes for somebody who looks at figures.
  await press('Space');
  await press('Escape');
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  expect(await page.locator('.reading-value').textContent()).toBe(value);
  await nextPiece(page, 13).waitFor();
}

it('does the whole job by keyboard alone, and loses nothing where the page is closed in the middle; every screen is clean', async (test) => {
  const job = await openStation(test);
  const { page, press } = job;
  await receiveAndMakeReady(job, (screen) => lookBothWays(page, screen));

  await measure(job, 12);
  await lookBothWays(page, '5-measure');
  await expect.poll(() => page.getByRole('status').first().textContent()).toMatch(/^Piece 12: (Pass|Fail)/);
  if (process.env.REELOHM_PICTURES) {
    copyFileSync(
      join(import.meta.dirname, '../../test-results/screens/light-5-measure.png'),
      join(import.meta.dirname, '../pictures/measuring.png'),
    );
  }

  const value = await page.locator('.reading-value').textContent();
  await page.reload();
  await nextPiece(page, 13).waitFor();
  expect(await page.locator('.reading-value').textContent()).toBe(value);
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();

  await lookCloser(job, 'w', 'worth');
  await lookCloser(job, 'f', 'figures');

  // The last reading is voided and its piece measured once more.
  await press('v');
  await page.getByRole('dialog').waitFor();
  await look(page, 'light-6-void');
  await press('Enter');
  await pieceAgain(page, 12).waitFor();
  // Piece 12 is on the probes: no value of another piece may stand for it.
  expect(await page.locator('.reading-value').count()).toBe(0);
  await press('Space');
  await nextPiece(page, 13).waitFor();
  await press('Space');
  await nextPiece(page, 14).waitFor();
  for (let piece = 14; piece <= 20; piece++) {
    await takeReading(job);
    const next = nextPiece(page, piece + 1);
    await next
      .or(page.getByRole('heading', { name: 'Check the bench again' }))
      .first()
      .waitFor();
    if (!(await next.isVisible())) break;
  }

  // Before the lot is decided the bench is shown to have stayed as it was.
  await atCheck(page, 'The meter');
  await page.getByText('check the bench once more before the lot is decided').waitFor();
  await look(page, 'light-7-closing');
  // Hands still in the rhythm of measuring must not do a check they have not made ready: that would make readings suspect.
  await press('Space', 'Space', 'Space');
  await atCheck(page, 'The meter');
  expect(await page.getByRole('button', { name: 'Do again' }).count()).toBe(0);
  await showReady(page);
  await page.getByRole('heading', { name: 'Decide the lot' }).waitFor();
  await look(page, 'light-7-decide');
  // The keys of this screen are keys, and not letters of the name of who decides.
  await press('f');
  await page.getByRole('heading', { name: 'Figures of the lot' }).waitFor();
  await press('Escape');
  await page.getByRole('heading', { name: 'Decide the lot' }).waitFor();
  expect(await page.getByLabel('Decided by').inputValue()).toBe('Newcomer');
  await expect
    .poll(async () => {
      await press('Enter');
      return page.getByRole('heading', { name: 'Certify the lot' }).isVisible();
    })
    .toBe(true);
  await look(page, 'light-8-certify');
  await press('Enter');
  await page.getByText('SHA-256').waitFor();
  await look(page, 'light-9-certified');

  const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
  const verified = verifyCertificate(readFileSync(file));
  expect(verified).toMatchObject({ run: 1, simulated: true });
  const download = page.waitForEvent('download');
  await press('s');
  const copy = await (await download).path();
  expect(readFileSync(copy)).toEqual(readFileSync(file));
}, 240_000);

it('makes readings suspect when a later check fails, and has their pieces measured again', async (test) => {
  const job = await openStation(test);
  const { page, press } = job;
  await receiveAndMakeReady(job);
  await measure(job, 3);
  await press('b');
  await showReady(page, 'Reference resistor');
  await atCheck(page, 'Ambient temperature');
  await press('ArrowLeft', 'Tab');
  await page.getByLabel('Ambient temperature').and(page.locator(':focus')).waitFor();
  await page.keyboard.type('31');
  await press('Enter');
  // A slip of the pen makes nothing suspect.
  await page.getByText('Enter it again if the thermometer says so').waitFor();
  await press('Enter');
  await page.getByRole('alert').filter({ hasText: '31 °C is outside 18 °C to 28 °C' }).waitFor();
  await page.getByText('numbers 1 to 3').waitFor();
  await look(page, 'suspect-5-failed');
  // Nothing can be accepted meanwhile; and what failed can be done again.
  expect(await page.getByRole('button', { name: 'Take reading' }).count()).toBe(0);
  await press('Control+a');
  await page.keyboard.type('23');
  await press('Enter');
  await pieceAgain(page, 1).waitFor();
  // No value of before may stand for the piece that is on the probes now.
  expect(await page.locator('.reading-value').count()).toBe(0);
  await page.getByText('Measure again:').waitFor();
  await look(page, 'suspect-6-again');
  await press('Space');
  await pieceAgain(page, 2).waitFor();
});

/** Longer than two presses are one. */
const CHANGED_MILLISECONDS = 500;

it('takes the second press of a double press for the same piece, at a real meter', async (test) => {
  const job = await openStation(test);
  const { page, press } = job;
  const meter = await tinyMeter({});
  await press('n');
  await page.getByLabel('Inspector').and(page.locator(':focus')).waitFor();
  await press('Shift+Tab', 'Enter');
  await page.getByText('Measure 20 of 5 000 pieces').first().waitFor();
  await press('Tab', 'Enter');
  await page.getByRole('radio', { name: 'Another address' }).focus();
  await press('Space');
  await page.getByRole('textbox', { name: 'Address' }).fill(meter.address);
  await press('Enter');
  await page.getByRole('checkbox').first().and(page.locator(':focus')).waitFor();
  const cautions = await page.getByRole('checkbox').count();
  for (let caution = 0; caution < cautions; caution++) await press('Space', 'Tab');
  await press('Enter');
  await showRealReady(page, meter);
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  await press('Space');
  await nextPiece(page, 2).waitFor();
  await expect.poll(() => page.getByText('Readings as a table').isVisible()).toBe(true);
  await page.waitForTimeout(CHANGED_MILLISECONDS);
  // As fast as a finger bounces, and then as a person does who has changed the piece.
  await press('Space');
  await page.waitForTimeout(120);
  await press('Space');
  await nextPiece(page, 3).waitFor();
  await page.waitForTimeout(CHANGED_MILLISECONDS);
  expect(await nextPiece(page, 3).isVisible()).toBe(true);
  await press('Space');
  await nextPiece(page, 4).waitFor();
});
