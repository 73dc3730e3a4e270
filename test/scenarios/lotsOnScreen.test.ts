import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { look } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { reelohm } from '../reelohm.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

it('says of a lot whether it belongs with the earlier ones, and of the first ones that there are too few', async (test) => {
  const data = temporaryFolder();
  const inspect = async (number: number, nominal: string) => {
    const lot = exampleLot({ sampleSize: 5, accept: 4 });
    const file = join(data, `lot-${number}.json`);
    const claim = { ...lot, part: { ...lot.part, nominal }, lot: { ...lot.lot, number: `L-${number}` } };
    writeFileSync(file, JSON.stringify(claim));
    const { status, err } = await reelohm(['inspect', file, '--meter', `sim:${number}`, '--data', data]);
    expect(status, err).toBeLessThan(2);
  };
  for (let number = 1; number <= 5; number++) await inspect(number, '4k7');
  // The sixth comes under the same part number, but is another value altogether.
  await inspect(6, '5k1');

  const { page, press } = await openStation(test, 'light', data);
  await page.getByRole('button', { name: /lot L-6/ }).click();
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();
  await press('l');
  await page.getByRole('heading', { name: 'Lots of TF-4K7-1 from Example Supply' }).waitFor();
  await page.getByText('Lot L-6 does not belong with the 5 earlier lots: its mean').waitFor();
  await page.getByRole('img', { name: /^Means of 6 lots; beyond its limits: .*L-6/ }).waitFor();
  await page.getByRole('img', { name: /^Moving average of the means of 6 lots/ }).waitFor();
  await page.getByRole('img', { name: /^Standard deviations of 6 lots/ }).waitFor();
  expect(await page.getByRole('row').count()).toBe(7);
  await look(page, 'lots-1');
  await page.emulateMedia({ media: 'print' });
  await look(page, 'lots-2-printed');
  await page.emulateMedia({ media: 'screen', colorScheme: 'dark' });
  await look(page, 'lots-3-dark');
  await press('Escape');
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();

  await page.goto(page.url().replace(/#.*/, '#/run/3/lots'));
  await page.getByText('2 earlier lots: too few to say whether this one belongs.').waitFor();
  await look(page, 'lots-4-few');
});
