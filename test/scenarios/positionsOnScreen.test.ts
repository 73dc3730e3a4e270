import { expect, it } from 'vitest';
import { lookBothWays } from '../chromium.ts';
import { makeReady, nextPiece, openStation } from '../screens.ts';

it('a piece is taken at another position than asked for, by keyboard', async (test) => {
  const { page, press } = await openStation(test);
  await press('n');
  await page.getByLabel('Inspector').and(page.locator(':focus')).waitFor();
  await press('Shift+Tab', 'Enter');
  await page.getByRole('radio', { name: 'At positions drawn at random' }).and(page.locator(':checked')).waitFor();
  await lookBothWays(page, 'positions-1-receive');
  await press('Tab', 'Enter');
  await makeReady({ page, press });

  await nextPiece(page, 1).waitFor();
  const shown = async () => Number(((await page.locator('.measure-position').textContent()) ?? '').replace(/\D/g, ''));
  const asked = await shown();
  expect(asked).toBeGreaterThan(0);
  await page.getByText(/positions drawn at random, seed \d+/).waitFor();
  await lookBothWays(page, 'positions-2-next');

  await press('p');
  await page.getByRole('heading', { name: 'Where do you take piece 1?' }).waitFor();
  await page
    .getByLabel(/^Position, 1 to 5/)
    .and(page.locator(':focus'))
    .waitFor();
  await page.keyboard.type('5 001');
  await press('Enter');
  await page.getByText('Position 5001 is not on a reel of 5000 pieces').waitFor();
  await lookBothWays(page, 'positions-3-another');
  await press('Control+a');
  await page.keyboard.type(String(asked + 1));
  await press('Enter');
  await page.getByText('as you say').waitFor();
  expect(await shown()).toBe(asked + 1);

  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  await press('Space');
  await nextPiece(page, 2).waitFor();
  expect(((await page.locator('.reading-of').textContent()) ?? '').replace(/\D/g, '')).toBe(`1${asked + 1}`);
  expect(await shown()).toBeGreaterThan(asked);
  await lookBothWays(page, 'positions-4-taken');
});
