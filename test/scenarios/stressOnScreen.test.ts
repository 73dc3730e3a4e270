import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { verifyStress } from '../../core/drift/verifyStress.ts';
import { look } from '../chromium.ts';
import { tabTo } from '../keyboard.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

function csvFile(name: string, rows: readonly string[]): string {
  const file = join(temporaryFolder(), name);
  writeFileSync(file, `${rows.join('\n')}\n`);
  return file;
}

it.for(['light', 'dark'] as const)(
  'compares two files of pieces before and after a treatment, in the %s',
  async (scheme, test) => {
    const { page, press } = await openStation(test, scheme);
    await press('b');
    await page.getByRole('heading', { name: 'Before and after a treatment' }).waitFor();
    await look(page, `stress-1-${scheme}`);
    await tabTo(page, page.getByRole('group', { name: 'Before' }).getByLabel('A run'));
    await press('ArrowDown');
    await tabTo(page, page.getByRole('group', { name: 'After' }).getByLabel('A run'));
    await press('ArrowDown');
    await tabTo(page, page.getByLabel('What was done between'));
    await press('s');

    // Invented values. The limit of a 1 000 Ω piece is 0.25 % of it and 0.05 Ω: 2.55 Ω, which itself is allowed.
    const before = csvFile('before.csv', [
      'piece,ohms,expanded_ohms',
      '1,1000,0.02',
      '2,1000,0.02',
      '3,1000,0.02',
      '4,1000,0.02',
      '5,999.5,0.02',
    ]);
    const after = csvFile('after.csv', [
      'piece,ohms,expanded_ohms',
      '1,1002.55,0.02',
      '2,1002.7,0.02',
      '3,open,',
      '4,999.1,0.02',
      '9,1001,0.02',
    ]);
    await page.getByLabel('CSV file before').setInputFiles(before);
    await page.getByLabel('CSV file after').setInputFiles(csvFile('empty.csv', ['piece,ohms']));
    await page.getByText('row 2: there are no pieces').waitFor();
    await page.getByLabel('CSV file after').setInputFiles(after);
    await page.getByLabel('Most a piece may change').fill('0.25');
    await page.getByText('"0.25" is not a limit of change').waitFor();
    await look(page, `stress-2-wrong-${scheme}`);
    await page.getByLabel('Most a piece may change').fill('0.25 % + 0.05 ohm');

    await page.getByText('After solder 2 of 4 pieces changed by more than').waitFor();
    await page.getByText('Worst: piece 3, which is open.').waitFor();
    await page.getByText('Not measured after the treatment: piece 5.').waitFor();
    await page.getByText('Not measured before the treatment, and left out: piece 9.').waitFor();
    expect(await page.getByRole('row', { name: /^1 / }).textContent()).toMatch(/2\.55.*Within, not sure$/);
    expect(await page.getByRole('row', { name: /^2 / }).textContent()).toMatch(/\+0\.27000.*Beyond$/);
    await page.getByRole('img', { name: 'Relative change of 4 pieces against their limits, 2 beyond' }).waitFor();
    await page.locator('.recharts-reference-dot').first().waitFor();
    await look(page, `stress-3-result-${scheme}`);

    // Who made it must be said before it is written.
    await press('Enter');
    await page.getByLabel('Made by').and(page.locator(':focus')).waitFor();
    await page.keyboard.type('Ines Okoro');
    await press('Enter');
    await page.getByText('SHA-256').waitFor();
    const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
    const { record, result } = verifyStress(readFileSync(file));
    expect(record).toMatchObject({ by: 'Ines Okoro', beforeSource: 'before.csv', afterSource: 'after.csv' });
    expect(result).toMatchObject({ holds: false, beyond: 2, missing: ['5'], extra: ['9'] });

    await page.emulateMedia({ media: 'print' });
    await look(page, `stress-4-printed-${scheme}`);
    expect(await page.getByRole('button').count()).toBe(0);
  },
);
