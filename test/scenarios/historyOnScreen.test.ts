import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { lookBothWays } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { tabTo } from '../keyboard.ts';
import { openedStation } from '../openedStation.ts';
import { quickBench } from '../quickBench.ts';
import { BY, checkBench, readyBench, runOf } from '../readyBench.ts';
import { reelohm } from '../reelohm.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { asOnScreen, whatIsCut } from './fitsOnScreen.ts';

const LONG =
  'Überlange-Lieferanten-und-Bauelemente-Handelsgesellschaft in the street of the many resistors, second yard';

/** Eight lots on simulated benches that take no time, of pieces of their own; the third is not accepted, the fourth on hold. */
async function lotsIn(data: string): Promise<void> {
  const lots = [
    ...[1, 2, 3, 4, 5, 6].map((number) => ['TF-4K7-1', '4k7', `L-${number}`, 'Example Supply'] as const),
    ['TF-10K-1', '10k', 'M-1', 'Example Supply'],
    ['TF-10K-1', '10k', 'M-2 =cmd()', LONG],
  ] as const;
  const station = openedStation(data);
  for (const [part, nominal, lot, supplier] of lots) {
    const claim = exampleLot({ sampleSize: 5, accept: 4 });
    const facts = {
      ...claim,
      part: { ...claim.part, number: part, nominal },
      lot: { ...claim.lot, number: lot, supplier },
    };
    const { run } = await station.ask('receive-lot', { claim: facts });
    await readyBench(station, run, await quickBench(await runOf(station, run), `sim:${run}`));
    for (let reading = 0; reading < 5; reading++) await station.ask('take-reading', { run });
    await checkBench(station, run);
    const disposition = run === 3 ? 'not-accepted' : run === 4 ? 'on-hold' : 'accepted';
    await station.ask('decide-lot', { run, disposition, by: BY, reason: 'so that there are some of each' });
  }
  await station.close();
}

const rowsOn = (page: Page) => page.locator('.history-open').allTextContents();
const address = (page: Page) => decodeURIComponent(new URL(page.url()).hash);
const found = (page: Page, count: number) =>
  page
    .getByRole('status')
    .filter({ hasText: new RegExp(`^${count}\\srun`) })
    .waitFor();

it('finds lots by what is typed, goes back to what was looked for, and takes the rows along', {
  timeout: 240_000,
}, async (test) => {
  const data = temporaryFolder();
  await lotsIn(data);
  const { page, press } = await openStation(test, 'light', data);
  await press('h');
  await page.getByRole('heading', { name: 'History' }).waitFor();
  await found(page, 8);
  expect(await rowsOn(page)).toEqual(['M-2 =cmd()', 'M-1', 'L-6', 'L-5', 'L-4', 'L-3', 'L-2', 'L-1']);
  await lookBothWays(page, 'history-1-all');

  // Typing: one step on the way back, whatever the letters; a choice is another.
  await press('f');
  await page.keyboard.type('tf-', { delay: 20 });
  await found(page, 8);
  await expect.poll(() => address(page)).toBe('#/history?text=tf-');
  await page.keyboard.type('10k', { delay: 20 });
  await found(page, 2);
  expect(address(page)).toBe('#/history?text=tf-10k');
  const disposition = page.getByLabel('Disposition');
  await tabTo(page, disposition);
  await disposition.selectOption('not-accepted');
  await page.getByText('No run is like that.').waitFor();
  await lookBothWays(page, 'history-2-none');
  expect(address(page)).toBe('#/history?text=tf-10k&disposition=not-accepted');
  await page.goBack();
  await found(page, 2);
  expect(await disposition.inputValue()).toBe('');
  expect(await page.getByLabel('Any text').inputValue()).toBe('tf-10k');
  await page.reload();
  await found(page, 2);
  expect(await page.getByLabel('Any text').inputValue()).toBe('tf-10k');
  await page.goBack();
  await found(page, 8);
  await page.goForward();
  await found(page, 2);

  // A run is opened by keys, and the way back leads to its row.
  await page.getByRole('heading', { name: 'History' }).focus();
  await press('ArrowDown', 'ArrowDown');
  await page.getByRole('link', { name: 'M-1' }).and(page.locator(':focus')).waitFor();
  await press('Enter');
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();
  await page.goBack();
  await page.getByRole('link', { name: 'M-1' }).and(page.locator(':focus')).waitFor();
  expect(address(page)).toBe('#/history?text=tf-10k');

  // What is exported is what is found, whole and safe.
  await press('e');
  const written = page.getByRole('region', { name: 'Export' }).locator('.machine');
  const file = (await written.textContent()) ?? '';
  const rows = parse(readFileSync(file), { columns: true }) as Record<string, string>[];
  expect(rows.map(({ run, part, lot, supplier }) => [run, part, lot, supplier])).toEqual([
    ['8', 'TF-10K-1', 'M-2 =cmd()', LONG],
    ['7', 'TF-10K-1', 'M-1', 'Example Supply'],
  ]);
  expect(rows[0]).toMatchObject({ practice: 'yes', measured: '5', disposition: 'accepted', nominal_ohms: '10000' });

  for (const [width, height] of [
    [1280, 720],
    [640, 360],
  ] as const) {
    await asOnScreen(page, width, height);
    await lookBothWays(page, `history-3-${width}`);
    expect.soft(await whatIsCut(page), `${width}`).toEqual([]);
    await page.locator('.history-table').scrollIntoViewIfNeeded();
    await lookBothWays(page, `history-3-rows-${width}`);
  }
  await asOnScreen(page, 1280, 720);

  // What an address says that means nothing is left out with a word.
  await page.evaluate("location.hash = '#/history?colour=red&from=yesterday&part=TF-4K7-1'");
  await page.getByText('“colour” is no filter here and was left out.').waitFor();
  await page.getByText('“from” was left out: “yesterday” must be a day like 2026-03-02.').waitFor();
  await found(page, 6);
  await press('Escape');
  await page.getByRole('heading', { name: 'Runs', exact: true }).waitFor();
});

it('shows how the lots of a part went, each dot leading to its run', { timeout: 240_000 }, async (test) => {
  const data = temporaryFolder();
  await lotsIn(data);
  const { page, press } = await openStation(test, 'light', data);
  await press('h');
  await found(page, 8);
  const trends = page.getByRole('button', { name: 'Trends' });
  expect(await trends.getAttribute('aria-disabled')).toBe('true');
  await page.getByLabel('Part', { exact: true }).fill('TF-4K7-1');
  await page.getByLabel('Supplier', { exact: true }).fill('Example Supply');
  await found(page, 6);
  await page.getByRole('heading', { name: 'History' }).focus();
  await press('t');
  await page.getByRole('heading', { name: 'How the lots went' }).waitFor();
  await page.getByRole('heading', { name: 'Dispositions of 6 lots of practice' }).waitFor();
  await page.getByRole('img', { name: /^Mean and window of 6/ }).waitFor();
  expect(await page.locator('.trend-fates').textContent()).toMatch(
    /^\s*4accepted\s*1not accepted\s*1on hold\s*0 not decided$/,
  );
  await page.getByText('5 earlier lots', { exact: false }).first().waitFor();
  await lookBothWays(page, 'history-4-trends');
  await page.screenshot({ path: 'test-results/screens/history-4-trends-whole.png', fullPage: true });
  await page.getByText('Table of the lots').click();
  await expect.poll(() => page.locator('.trends-table tbody tr').count()).toBe(6);
  await page.reload();
  await page.getByRole('img', { name: /^Mean and window of 6/ }).waitFor();
  await page.locator('.trend-dot-of-run[data-run="4"]').first().click();
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();
  expect(address(page)).toBe('#/run/4');
  await page.goBack();

  // Of a supplier alone the parts differ: all is in per cent of each nominal value.
  await page.getByLabel('Part', { exact: true }).fill('');
  await page.getByRole('heading', { name: 'Dispositions of 7 lots of practice' }).waitFor();
  await page.getByRole('img', { name: /^Mean and window, from the nominal value of 7/ }).waitFor();
  await asOnScreen(page, 640, 360);
  await lookBothWays(page, 'history-5-trends-640');
  expect.soft(await whatIsCut(page)).toEqual([]);
});

it('checks, backs up and exports the record by keys', { timeout: 240_000 }, async (test) => {
  const data = temporaryFolder();
  await lotsIn(data);
  const { page, press } = await openStation(test, 'light', data);
  await press('h');
  await page.getByRole('heading', { name: 'History' }).waitFor();
  await press('r');
  await page.getByRole('heading', { name: 'The record' }).waitFor();
  await page.getByText('None was made here.').waitFor();
  await lookBothWays(page, 'record-1');
  await press('c');
  const checked = page.getByRole('region', { name: 'Check it' }).getByRole('status').filter({ hasText: 'Intact' });
  await checked.waitFor();
  const hash = await checked.locator('.machine').textContent();
  await press('b');
  const copied = page.getByRole('region', { name: 'Back it up' }).getByRole('status').filter({ hasText: 'Copied' });
  const copy = (await copied.locator('.machine').textContent()) ?? '';
  const { status, out } = await reelohm(['record', 'check', copy, '--json']);
  expect([status, JSON.parse(out)]).toEqual([0, expect.objectContaining({ intact: true, runs: 8, hash })]);
  await press('e');
  const exported = page.getByRole('region', { name: 'Take all of it along' }).locator('.record-done .machine');
  const folder = (await exported.textContent()) ?? '';
  const last = readFileSync(join(folder, 'entries.jsonl'), 'utf8').trimEnd().split('\n').at(-1) ?? '';
  expect(JSON.parse(last)).toMatchObject({ hash });
  await lookBothWays(page, 'record-2-done');
  await page.screenshot({ path: 'test-results/screens/record-2-whole.png', fullPage: true });
  await asOnScreen(page, 640, 360);
  await lookBothWays(page, 'record-3-640');
  expect.soft(await whatIsCut(page)).toEqual([]);
  await page.reload();
  await page.getByText(/Intact .*, [\d\s]+entries/).waitFor();
  await press('Escape');
  await page.getByRole('link', { name: 'Record' }).click();
  await page.getByRole('heading', { name: 'The record' }).waitFor();
});
