import { expect, it } from 'vitest';
import { look } from '../chromium.ts';
import { openStation } from '../screens.ts';

it('says what a term means and where its rule comes from, by F1 in its field and by the mouse', async (test) => {
  const { page, press } = await openStation(test);
  await press('n');
  await page.getByRole('heading', { name: 'Receive a lot' }).waitFor();
  await page.getByLabel('Inspection level', { exact: true }).focus();
  await press('F1');
  await page.getByText('How large the sample is for the size of the lot.').waitFor();
  await page.getByText('MIL-STD-105E, Table I').waitFor();
  await look(page, 'meaning-1');
  await press('Escape');
  await page.getByText('How large the sample is for the size of the lot.').waitFor({ state: 'hidden' });

  await page.getByRole('button', { name: 'What it means: AQL' }).hover();
  await page.getByText('Acceptance quality limit:').waitFor();
  // It asks nothing of who only fills in the form: the next field is the next stop.
  await press('Escape');
  await page.getByLabel('AQL, per cent', { exact: true }).focus();
  await press('Tab');
  expect(await page.locator(':focus').getAttribute('name')).toBe('level');
});
