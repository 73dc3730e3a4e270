import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openRecord } from '../../main/record/record.ts';
import { look } from '../chromium.ts';
import { keep, longRun } from '../main/station/longRun.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

it('shows how far a long certificate is, stops it by its key, and writes it after all', async (test) => {
  const data = temporaryFolder();
  const record = openRecord(data);
  keep(record, 1, await longRun(25_000));
  record.close();
  const { page, press } = await openStation(test, 'dark', data);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await page.goto(`${page.url().split('#')[0]}#/run/1`);
  await page.getByRole('button', { name: 'Write the certificate' }).waitFor();
  await press('Enter');
  const bar = page.getByRole('progressbar', { name: 'Writing the certificate' });
  await bar.waitFor();
  await press('Escape');
  await page.getByText('Stopped. No certificate was written.').waitFor();
  expect(existsSync(join(data, 'certificates')) ? readdirSync(join(data, 'certificates')) : []).toEqual([]);
  await look(page, 'long-1-stopped');
  // On a quick machine what is said of its progress is gone before anybody could wait for it.
  await page.evaluate(`
    globalThis.saidMeanwhile = [];
    new MutationObserver(() => saidMeanwhile.push(document.body.innerText)).observe(document.body, {
      subtree: true,
      childList: true,
      characterData: true,
    });
  `);
  await press('Enter');
  await bar.or(page.getByText('SHA-256')).first().waitFor();
  await look(page, 'long-2-certificate');
  await page.getByText('SHA-256').waitFor();
  const said = await page.evaluate<string[]>('saidMeanwhile');
  expect(said.some((text) => /^[\d\u00a0]+ of 25\u00a0\d{3} (readings|rows written)$/m.test(text))).toBe(true);
  // The file, and what describes it for the web.
  expect(readdirSync(join(data, 'certificates')).sort()).toEqual(['L-1-run-1.csv', 'L-1-run-1.csv-metadata.json']);
  expect(await page.getByRole('progressbar').count()).toBe(0);
});

it('shows how far a long file of parts is, stops reading and importing it by the same key, and imports it after all', async (test) => {
  const file = join(temporaryFolder(), 'many.csv');
  writeFileSync(
    file,
    `part,nominal,tolerance\n${Array.from({ length: 15_000 }, (_, at) => `P-${at},4k7,1 %`).join('\n')}`,
  );
  const { page, press } = await openStation(test, 'light');
  await page.evaluate("location.hash = '#/parts'");
  await page.getByRole('button', { name: 'Import' }).waitFor();
  await press('i');
  const choose = async () => page.getByLabel('CSV file of parts').setInputFiles(file);
  await choose();
  await page.getByRole('progressbar', { name: 'Reading many.csv' }).waitFor();
  await press('Escape');
  await page.getByText('Stopped. Choose the file again to read it.').waitFor();
  await choose();
  await page.getByRole('progressbar', { name: 'Reading many.csv' }).waitFor();
  await look(page, 'long-3-parts');
  await page.getByText('The file holds 15\u00a0000\u00a0new parts.').waitFor();
  await press('Enter');
  await page.getByRole('progressbar', { name: 'Importing the parts' }).waitFor();
  await press('Escape');
  await page.getByText('Stopped. Nothing was imported; the list is as it was.').waitFor();
  await look(page, 'long-4-parts-stopped');
  await press('Enter');
  await page.getByText('15\u00a0000\u00a0parts were imported from many.csv.').waitFor();
});

it('keeps a form that is left half filled in, and empties it when asked', async (test) => {
  const { page } = await openStation(test);
  for (const [screen, label] of [
    ['study', 'Operators'],
    ['stress', 'Most a piece may change, ±'],
    ['receive', 'Lot number'],
  ] as const) {
    const go = (to: string) => page.evaluate(`location.hash = '#/${to}'`);
    await go(screen);
    await page.getByLabel(label).fill('half typed');
    await go('');
    await page.getByRole('button', { name: 'Receive a lot' }).waitFor();
    await go(screen);
    await page.getByText('This form is as you left it.').waitFor();
    expect(await page.getByLabel(label).inputValue()).toBe('half typed');
    await look(page, `kept-${screen}`);
    await page.getByRole('button', { name: 'Empty it' }).click();
    await page.getByRole('button', { name: 'Keep it' }).click();
    expect(await page.getByLabel(label).inputValue()).toBe('half typed');
    await page.getByRole('button', { name: 'Empty it' }).click();
    await page.getByRole('button', { name: 'Empty', exact: true }).click();
    expect(await page.getByLabel(label).inputValue()).toBe('');
    await go('');
    await page.getByRole('button', { name: 'Receive a lot' }).waitFor();
    await go(screen);
    expect(await page.getByLabel(label).inputValue()).toBe('');
  }
  const example = page.getByRole('button', { name: 'Fill in an example lot' });
  const lot = page.getByLabel('Lot number');
  await page.evaluate("location.hash = '#/receive'");
  await lot.fill('L-77');
  await example.click();
  await page.getByRole('button', { name: 'Keep what is there' }).click();
  expect(await lot.inputValue()).toBe('L-77');
  await example.click();
  await page.getByRole('button', { name: 'Fill in the example', exact: true }).click();
  expect(await lot.inputValue()).toBe('EXAMPLE-1');
});
