import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { verifyStudy } from '../../core/study/verifyStudy.ts';
import { look } from '../chromium.ts';
import { houfBerman } from '../core/study/houfBerman.ts';
import { tabTo } from '../keyboard.ts';
import { atCheck, makeReady, openStation, showReady, takeReading } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

async function takeReadingsFromFile(page: Page, rows: readonly string[]): Promise<void> {
  const file = join(temporaryFolder(), 'readings.csv');
  writeFileSync(file, `${rows.join('\n')}\n`);
  await page.getByLabel('CSV file').setInputFiles(file);
}

it('measures a whole crossed study by keyboard alone, up to its result', async (test) => {
  const { page, press } = await openStation(test);
  await press('s');
  await page.getByRole('heading', { name: 'Study of the measurement' }).waitFor();
  await page.getByLabel('Made by').and(page.locator(':focus')).waitFor();
  await page.keyboard.type('Ines Okoro');
  // What is missing or wrong is said beside its field, and the first of them has the focus.
  await press('Enter');
  await page.getByLabel('Part number').and(page.locator(':focus')).waitFor();
  await page.getByText('2 to 10 names, with commas between them.').waitFor();
  await look(page, 'study-1-wrong');
  await page.keyboard.type('EXAMPLE 4K7');
  const typed = {
    'Nominal value': '4k7',
    'Tolerance or limits': '1 %',
    Operators: 'Ana, Ben',
    Pieces: '2',
    Repeats: '2',
  };
  for (const [label, text] of Object.entries(typed)) {
    await tabTo(page, page.getByLabel(label, { exact: true }));
    await press('Control+a');
    await page.keyboard.type(text);
  }
  await page.getByText('8 readings').waitFor();
  expect(await page.getByLabel('Made by').inputValue()).toBe('Ines Okoro');
  await look(page, 'study-2-planned');
  await press('Enter');

  await makeReady({ page, press });
  for (let turn = 1; turn <= 8; turn++) {
    await page.getByText(`Turn ${turn} of 8: piece`).waitFor();
    if (turn === 5) await look(page, 'study-3-turn');
    await takeReading({ page, press });
  }
  await atCheck(page, 'The meter');
  await showReady(page);
  await page.getByRole('heading', { name: 'Close the study' }).waitFor();
  await look(page, 'study-4-close');
  await expect
    .poll(async () => {
      await press('Enter');
      return page.getByRole('heading', { name: 'Result of the study' }).isVisible();
    })
    .toBe(true);
  await page.getByText('Crossed study: 2 pieces × 2 operators × 2 repeats, 8 readings.').waitFor();
  await page.getByRole('img', { name: /^Interaction/ }).waitFor();
  await look(page, 'study-5-result');
  await page.locator('h1').focus();
  await press('Enter');
  await page.getByText('SHA-256').waitFor();
  const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
  expect(verifyCertificate(readFileSync(file))).toMatchObject({ disposition: 'studied', readings: 8 });

  // Its name was typed wrong.
  await tabTo(page, page.locator('.correct summary'));
  await press('Enter');
  await tabTo(page, page.getByLabel('What the name of the study should be'));
  await page.keyboard.type('Meter 3, autumn', { delay: 60 });
  await tabTo(page, page.getByRole('textbox', { name: 'Reason of the correction' }));
  await page.keyboard.type('another season', { delay: 60 });
  await press('Enter');
  await page.getByText('Out of date.').waitFor();
  await look(page, 'study-6-corrected');
  expect(await page.getByText('Meter 3, autumn').first().isVisible()).toBe(true);
}, 240_000);

it('works out a crossed study from a file at once, as published, and writes and prints it', async (test) => {
  const { page, press } = await openStation(test);
  await press('s');
  await tabTo(page, page.getByLabel('Measure a study'), 'Shift+Tab');
  await press('ArrowDown');
  await page.getByLabel('CSV file').waitFor();
  await look(page, 'study-6-import');

  // What is wrong with a file stands beside it, with its row; nothing that was typed is lost.
  await page.getByLabel('What was studied').fill('Thermal impedance of modules');
  await takeReadingsFromFile(page, ['piece,operator,repeat,ohms', '1,A,1,four']);
  await page.getByText('row 2: ohms is "four"').waitFor();
  await look(page, 'study-7-wrong-file');
  const rows = houfBerman.map(({ piece, operator, repeat, ohms }) => [piece, operator, repeat, ohms].join());
  await takeReadingsFromFile(page, ['piece,operator,repeat,ohms', ...rows]);
  expect(await page.getByLabel('What was studied').inputValue()).toBe('Thermal impedance of modules');

  // Houf and Berman 1988, components 48.29, 0.56, 0.73, 0.51 as printed in Montgomery, Introduction to Statistical Quality
  // Control (from memory, recomputed): the gauge is 3.6005 % of variance and 18.975 % of the standard deviation of all.
  const gauge = page.getByRole('row', { name: /^Gauge/ });
  await gauge.waitFor();
  expect((await gauge.textContent())?.replaceAll('\u00a0', ' ')).toContain('3.6 %19 %');
  await page.getByText('too few').or(page.getByText('enough (at least 5)')).waitFor();
  await look(page, 'study-8-imported');

  await page.getByLabel('Made by').fill('Ines Okoro');
  await press('Enter');
  await page.getByText('SHA-256').waitFor();
  const file = (await page.locator('.certify-facts dd').first().textContent()) ?? '';
  const { record, study } = verifyStudy(readFileSync(file));
  expect(record).toMatchObject({ title: 'Thermal impedance of modules', by: 'Ines Okoro' });
  // The fifth printed digit of the share: 3.6005.
  expect(study.design === 'crossed' && study.components[0]?.percentOfVariance).toBeCloseTo(3.6005, 4);

  const download = page.waitForEvent('download');
  await page.locator('h1').focus();
  await press('s');
  expect(readFileSync(await (await download).path())).toEqual(readFileSync(file));

  await page.evaluate("print = () => document.documentElement.setAttribute('data-printed', '')");
  await press('p');
  await page.locator('html[data-printed]').waitFor();
  await page.emulateMedia({ media: 'print' });
  await look(page, 'study-9-printed');
  expect(await page.getByRole('button').count()).toBe(0);
  expect(await page.locator('form').isVisible()).toBe(false);
  await page.getByRole('heading', { name: 'Thermal impedance of modules' }).waitFor();
});

it('works out a single-operator study from a file with its bias, in the dark', async (test) => {
  const { page, press } = await openStation(test, 'dark');
  await press('s');
  await page.getByLabel('Take readings from a file').check();
  // Invented readings of a 100 Ω standard, all 0.01 Ω high.
  const ohms = ['100.011', '100.009', '100.010', '100.012', '100.008', '100.011', '100.010', '100.009', '100.010'];
  const rows = ohms.map((value, index) => `1,${Math.floor(index / 3) + 1},${(index % 3) + 1},${value}`);
  await takeReadingsFromFile(page, ['piece,session,repeat,ohms', ...rows]);
  await page.getByText('No reference value was given').waitFor();
  await page.getByLabel('Reference value, for bias').fill('100');
  await page.getByLabel('Its uncertainty, k = 2').fill('2 m');
  await page.getByText('the readings lie off the reference value').waitFor();
  await page.getByRole('img', { name: /^No bias is at the notch/ }).waitFor();
  await page.getByRole('img', { name: /^By session/ }).waitFor();
  await look(page, 'study-10-single-dark');
});
