import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { lookBothWays } from '../chromium.ts';
import { tabTo } from '../keyboard.ts';
import { nextPiece, openStation, showReady, takeReading } from '../screens.ts';
import { asOnScreen, whatIsCut } from './fitsOnScreen.ts';

it('does an exercise from the tray to its debrief, by keyboard alone', async (test) => {
  const job = await openStation(test);
  const { page, press } = job;
  await press('e');
  await page.getByRole('heading', { name: 'Practice', level: 1 }).waitFor();
  await page.getByLabel('Who practises').and(page.locator(':focus')).waitFor();
  await page.getByRole('heading', { name: 'Ten in a row' }).waitFor();
  await lookBothWays(page, 'practice-1-tray');
  for (const [width, height] of [
    [640, 360],
    [1920, 1080],
    [1280, 720],
  ] as const) {
    await asOnScreen(page, width, height);
    expect(await whatIsCut(page)).toEqual([]);
  }

  // Nobody begins without a name: several people may practise here.
  await tabTo(page, page.getByRole('button', { name: 'Begin Ten in a row' }));
  await press('Enter');
  await page.getByText('Must not be empty: several people may practise here.').waitFor();
  await tabTo(page, page.getByLabel('Who practises'), 'Shift+Tab');
  await page.keyboard.type('Noor Haddad');
  await tabTo(page, page.getByRole('button', { name: 'Begin Ten in a row' }));
  await press('Enter');

  await page.getByText('Exercise: Ten in a row.').waitFor();
  await page.getByRole('checkbox').first().and(page.locator(':focus')).waitFor();
  expect(await page.getByText('conducts nothing from end to end').isVisible()).toBe(true);
  const cautions = await page.getByRole('checkbox').count();
  for (let caution = 0; caution < cautions; caution++) await press('Space', 'Tab');
  await lookBothWays(page, 'practice-2-ready');
  await press('Enter');
  await showReady(page);
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  // While pieces are measured the exercise is one line.
  expect(await page.getByText('conducts nothing from end to end').isVisible()).toBe(false);
  await nextPiece(page, 1).waitFor();
  for (let piece = 1; piece <= 9; piece++) {
    await takeReading(job);
    await nextPiece(page, piece + 1).waitFor();
  }
  await lookBothWays(page, 'practice-3-measure');
  // Something is done at the bench: the key for the next reading is not taken by that.
  await tabTo(page, page.locator('summary', { hasText: 'Exercise' }), 'Shift+Tab');
  await press('Enter');
  await tabTo(page, page.getByRole('button', { name: 'Do it' }));
  await press('Enter');
  await page.getByText('One end of each piece is lifted').waitFor();
  await expect.poll(() => page.evaluate('document.activeElement === document.body')).toBe(true);
  await takeReading(job);
  await showReady(page);

  await page.getByRole('heading', { name: 'Decide the lot' }).waitFor();
  await tabTo(page, page.getByLabel('What it was'), 'Shift+Tab');
  await page.keyboard.type('An element open');
  await tabTo(page, page.getByLabel('At which piece'));
  await page.keyboard.type('7');
  await tabTo(page, page.getByRole('button', { name: 'Name it' }));
  await press('Enter');
  await page.getByText('Named: an element open, piece 7.').waitFor();
  await lookBothWays(page, 'practice-4-decide');
  await tabTo(page, page.getByRole('button', { name: /^Do not accept the lot/ }));
  await expect
    .poll(async () => {
      // On the next screen the same key would write the certificate.
      if (await page.getByRole('heading', { name: 'Decide the lot' }).isVisible()) await press('Enter');
      return page.getByRole('heading', { name: 'Certify the lot' }).isVisible();
    })
    .toBe(true);

  await tabTo(page, page.getByRole('button', { name: 'Have the debrief' }), 'Shift+Tab');
  await press('Enter');
  await page.getByText('100 of 100 points').waitFor();
  await page.getByText('It was: an element open').waitFor();
  await lookBothWays(page, 'practice-5-debrief');

  // Practice stays practice on its certificate.
  await tabTo(page, page.getByRole('button', { name: /^Write the certificate/ }));
  await press('Enter');
  await page.getByText('SHA-256').waitFor();
  const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
  expect(verifyCertificate(readFileSync(file))).toMatchObject({ simulated: true, disposition: 'not-accepted' });

  await tabTo(page, page.getByRole('button', { name: 'Back to the practice tray' }), 'Shift+Tab');
  await press('Enter');
  await page.getByText('Best: 100 of 100 points').waitFor();
  expect(await page.getByLabel('Who practises').inputValue()).toBe('Noor Haddad');
}, 240_000);
