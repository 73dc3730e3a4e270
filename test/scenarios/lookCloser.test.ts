import type { Page } from 'playwright-core';
import { expect, it, type TestContext } from 'vitest';
import type { LotClaimInput } from '../../core/inspection/lotClaim.ts';
import { checkDue } from '../../core/inspection/run.ts';
import { openRecord } from '../../main/record/record.ts';
import { openStation } from '../../main/station/station.ts';
import { look, openPage } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { quickBench } from '../quickBench.ts';
import { checkBench, readyBench, readyRealBench, runOf } from '../readyBench.ts';
import { lineFrom, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { SETTINGS, tinyMeter } from '../tinyMeter.ts';

/** A folder whose record holds one run with so many readings, taken on the simulated bench or another meter. */
async function measured(
  claim: LotClaimInput,
  readings: number,
  address?: string,
  ohms = '+4.7012E+03',
): Promise<string> {
  const folder = temporaryFolder();
  const folders = { data: folder, certificates: folder };
  const station = openStation({ folders, version: 'test', record: openRecord(folder) });
  try {
    const { run } = await station.ask('receive-lot', { claim });
    if (address === undefined) {
      const meter = await tinyMeter(SETTINGS);
      await readyRealBench(station, run, meter);
      meter.ohms = ohms;
    } else {
      await readyBench(station, run, await quickBench(await runOf(station, run), address));
    }
    for (let taken = 0; taken < readings; taken++) {
      if (checkDue(await runOf(station, run)) !== null) await checkBench(station, run);
      await station.ask('take-reading', { run });
    }
  } finally {
    await station.close();
  }
  return folder;
}

/** The page of a run, served to the browser. */
async function openRun(test: TestContext, folder: string, view: string, colorScheme: 'light' | 'dark'): Promise<Page> {
  const server = startReelohm(['open', '--browser', '--no-launch', '--data', folder]);
  const [, address = ''] = await lineFrom(server.stdout, /Reelohm is at (\S+)/);
  const page = await openPage(test, { colorScheme });
  await page.goto(address);
  await page.getByRole('button', { name: 'Receive a lot' }).waitFor();
  await page.evaluate(`location.hash = '#/run/1/${view}'`);
  await page.getByRole('heading', { level: 1 }).and(page.locator(':focus')).waitFor();
  return page;
}

/** No figure on the page that is none. */
async function expectFigures(page: Page): Promise<void> {
  expect(await page.locator('main').textContent()).not.toMatch(/NaN|Infinity|undefined|null/);
  expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
}

const DRIFTING: LotClaimInput = {
  ...exampleLot({ sampleSize: 125, accept: 60 }),
  decision: { rule: 'non-binary', guardFactor: '1', processSpread: '0.3 %' },
  temperature: { coefficient: { knownPpmPerKelvin: '50', uncertaintyPpmPerKelvin: '10' } },
};

it('says of few readings what they cannot tell', async (test) => {
  const folder = await measured(exampleLot(), 3, 'sim:7');
  const page = await openRun(test, folder, 'figures', 'light');
  await page.getByText('Only 3 pieces: too few to tell').first().waitFor();
  await page.getByText('3 readings are too few to tell a trend').first().waitFor();
  await page.getByText('the risks of a lot need the spread of the process').waitFor();
  await page.locator('.recharts-surface').first().waitFor();
  await expectFigures(page);
  expect(await page.getByText(/^Cpk$/).count()).toBe(0);
  await look(page, 'few-figures');
  await page.keyboard.press('Escape');
  await page.waitForURL((url) => url.hash === '#/run/1');
});

it('shows the figures of many readings section by section, each chart as a table too', async (test) => {
  const folder = await measured(DRIFTING, 120, 'sim:3?reel=drifting');
  const page = await openRun(test, folder, 'figures', 'dark');
  await page.getByText('leaves the window at its').waitFor();
  await expect.poll(() => page.locator('.recharts-surface').count()).toBe(6);
  const sections = [
    ...['Summary', 'What it may be', 'Shape', 'Capability', 'Normality and outliers', 'Along the reel'],
    ...['Risks of the rule', 'The meter'],
  ];
  for (const [index, title] of sections.entries()) {
    await page.keyboard.press(String(index + 1));
    const heading = page.getByRole('heading', { level: 2, name: title, exact: true });
    await heading.and(page.locator(':focus')).waitFor();
    expect((await heading.boundingBox())?.y).toBeLessThan(720);
    if (title === 'What it may be') {
      await page.getByText('Trend along the reel.').waitFor();
      await look(page, 'many-figures-may-be');
    }
  }
  await look(page, 'many-figures-meter');
  await page.getByText("Consumer's risk").waitFor();
  // Before the first reading, after 50 and after 100.
  expect(
    await page
      .getByRole('region', { name: /^Checks with the reference/ })
      .getByRole('row')
      .count(),
  ).toBe(4);
  const averages = page.locator('figure').filter({ hasText: 'EWMA' });
  await averages.getByText('Values as a table').click();
  // A page at a time: 50 rows and their heads, and the last 20 of 120.
  await expect.poll(() => averages.getByRole('row').count()).toBe(51);
  await averages.getByRole('button', { name: 'Last' }).click();
  await expect.poll(() => averages.getByRole('row').count()).toBe(21);
  expect(await averages.getByText('rows 101 to 120 of 120').count()).toBe(1);
  await expectFigures(page);
  await look(page, 'many-figures-table');
  await page.keyboard.press('l');
  await page.waitForURL((url) => url.hash === '#/run/1/lots');
});

it('shows the worth of one reading after the other, each with the budget of its own time', async (test) => {
  const folder = await measured(DRIFTING, 60, 'sim:3?reel=drifting');
  const page = await openRun(test, folder, 'worth', 'light');
  await page.getByText('Piece 60').waitFor();
  const budget = page.getByRole('region', { name: 'Budget of uncertainty' });
  await budget.getByRole('rowheader', { name: /^Accuracy of the meter/ }).waitFor();
  await look(page, 'worth-last');
  await expectFigures(page);
  await page.keyboard.press('ArrowLeft');
  await page.getByText('Piece 59').waitFor();
  await page.getByLabel('Another piece, by its number').fill('12');
  await page.getByText('Piece 12').waitFor();
  await budget.getByRole('rowheader', { name: /^Ambient temperature/ }).waitFor();
  // What was recorded and what is worked out from the bench as it was are the same.
  expect(await page.getByText('another version of this program').count()).toBe(0);
  await page.getByLabel('Another piece, by its number').fill('99');
  await page.getByText('No reading of a piece 99.').waitFor();
  // Escape leaves the field first, and closes what is open over the page, before it leaves the page.
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Sound and look' }).click();
  await page.keyboard.press('Escape');
  await page.getByRole('slider').waitFor({ state: 'hidden' });
  expect(new URL(page.url()).hash).toBe('#/run/1/worth');
  await page.getByRole('button', { name: 'The last one' }).press('Enter');
  await page.getByText('Piece 60').waitFor();
  await page.keyboard.press('Escape');
  await page.waitForURL((url) => url.hash === '#/run/1');
});

it('says of a reading outside the window what it may be, with the evidence and what to do next', async (test) => {
  const folder = await measured(exampleLot(), 1, undefined, '+4.7012E+02');
  const page = await openRun(test, folder, 'worth', 'light');
  const causes = page.getByRole('region', { name: 'What it may be' });
  await causes.getByText('470.02 Ω lies within ±1 % of 470 Ω, which is 4.7 kΩ divided by 10.').waitFor();
  await causes.getByText('Read the multiplier on the piece and on the reel').waitFor();
  expect(await causes.getByRole('listitem').count()).toBe(2);
  await expectFigures(page);
  await look(page, 'worth-may-be');
});

it('says why an uncertainty is not known and what would give one, without an empty table', async (test) => {
  const folder = await measured(exampleLot(), 1);
  const page = await openRun(test, folder, 'worth', 'dark');
  await page.getByRole('heading', { name: 'Why the uncertainty is not known' }).waitFor();
  await page.getByText('nobody has entered the accuracy of the meter').waitFor();
  expect(await page.getByRole('table').count()).toBe(0);
  await expectFigures(page);
  await look(page, 'worth-unknown');
});
