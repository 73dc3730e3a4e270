import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it, type TestContext } from 'vitest';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { openRecord } from '../../main/record/record.ts';
import { openStation as openHere } from '../../main/station/station.ts';
import { keepPicture, look } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { tabTo } from '../keyboard.ts';
import { checkRealBench, readyRealBench } from '../readyBench.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { SETTINGS, tinyMeter } from '../tinyMeter.ts';

/** A folder whose record holds one lot, measured and checked: its pieces read this, and none may fail. */
async function measured(shown: readonly string[]): Promise<string> {
  const folder = temporaryFolder();
  const station = openHere({
    folders: { data: folder, certificates: folder },
    version: 'test',
    record: openRecord(folder),
  });
  try {
    const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: shown.length, accept: 0 }) });
    const meter = await tinyMeter(SETTINGS);
    await readyRealBench(station, run, meter);
    for (const ohms of shown) {
      meter.ohms = ohms;
      await station.ask('take-reading', { run });
    }
    await checkRealBench(station, run, meter);
  } finally {
    await station.close();
  }
  return folder;
}

const [GOOD, LOW] = ['+4.7001E+03', '+4.6001E+03'];

async function openRun(test: TestContext, data: string) {
  const job = await openStation(test, 'light', data);
  await job.page.evaluate("location.hash = '#/run/1'");
  await job.page.getByRole('heading', { name: 'Decide the lot' }).waitFor();
  return job;
}

/** A picture in both sizes and both colours; axe-core in one of the colours each. Nothing lies beside the page. */
async function lookAtSizes(page: Page, name: string): Promise<void> {
  await keepPicture(page, `light-${name}`);
  await page.emulateMedia({ colorScheme: 'dark' });
  await look(page, `dark-${name}`);
  await page.setViewportSize({ width: 640, height: 360 });
  expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), name).toBe(true);
  await keepPicture(page, `dark-${name}-small`);
  await page.emulateMedia({ colorScheme: 'light' });
  await look(page, `light-${name}-small`);
  await page.setViewportSize({ width: 1280, height: 720 });
}

it('accepts a lot against its plan with a second name, corrects that, and tells it all, by keyboard alone', async (test) => {
  const data = await measured([GOOD, LOW]);
  const { page, press } = await openRun(test, data);
  const button = (name: string) => page.getByRole('button', { name, exact: true });
  const field = (name: string) => page.getByRole('textbox', { name, exact: true });
  const type = async (name: string, text: string) => {
    await tabTo(page, field(name));
    await press('ControlOrMeta+a');
    await page.keyboard.type(text);
  };
  await button('Do not accept the lot').and(page.locator(':focus')).waitFor();
  await lookAtSizes(page, 'fate-1-not-accepted-by-plan');

  await tabTo(page, page.getByRole('radio', { name: 'Do not accept the lot' }), 'Shift+Tab');
  await press('ArrowDown', 'ArrowDown');
  await page.getByRole('radio', { name: 'Accept although the plan does not' }).and(page.locator(':checked')).waitFor();
  await type('Reason', 'used at half its rating');
  await press('Enter');
  await page.getByText('Must not be empty.').waitFor();
  await type('Second person who answers for it', 'ines  okoro');
  await press('Enter');
  await page.getByText('Ines Okoro cannot be the second person beside themselves').waitFor();
  await lookAtSizes(page, 'fate-2-same-name');
  await type('Second person who answers for it', 'R. Adeyemi');
  await press('Enter');

  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();
  await page.getByText('Accepted against its plan. R. Adeyemi answers for it as well.').waitFor();
  await page.getByText('Reason: used at half its rating.').waitFor();
  await press('Enter');
  const digest = page.locator('dd.certify-digest');
  await digest.waitFor();
  const first = await digest.textContent();
  await lookAtSizes(page, 'fate-3-certified');

  await tabTo(page, page.locator('summary').filter({ hasText: 'Correct' }));
  await press('Enter');
  const decision = page.getByRole('form', { name: 'The decision' });
  await tabTo(page, decision.getByRole('radio', { name: 'Not accepted' }));
  await press('Space');
  await tabTo(page, decision.getByRole('textbox', { name: 'Reason of the correction' }));
  await page.keyboard.type('the wrong lot was meant');
  await press('Enter');
  await page.locator('.certify-fate .fate', { hasText: 'Not accepted' }).waitFor();
  await page.getByText('Corrected by Ines Okoro').waitFor();
  await page.getByText('Out of date.').waitFor();
  await lookAtSizes(page, 'fate-4-corrected');

  const typed = page.getByRole('form', { name: 'What was typed' });
  await tabTo(page, typed.getByRole('combobox', { name: 'What is wrong' }));
  await press('ArrowDown');
  await typed.getByText('Now: Example Supply').waitFor();
  await type('What the supplier should be', 'Sample Supply');
  await tabTo(page, typed.getByRole('textbox', { name: 'Reason of the correction' }));
  await page.keyboard.type('a slip of the pen');
  await press('Enter');
  await typed.getByText('Now: Sample Supply').waitFor();
  await tabTo(page, button('Write the certificate anew'), 'Shift+Tab');
  await press('Enter');
  await expect.poll(() => digest.textContent()).not.toBe(first);
  await page.getByText('Out of date.').waitFor({ state: 'detached' });
  const file = await page.locator('.certify-facts .machine').first().textContent();
  expect(verifyCertificate(readFileSync(file ?? ''))).toMatchObject({ disposition: 'not-accepted' });

  await page.getByRole('heading', { level: 1 }).click();
  await press('a');
  await page.getByRole('heading', { name: 'What happened' }).waitFor();
  await page.getByRole('row').nth(1).waitFor();
  const told = (await page.locator('.story-what').allTextContents()).join('\n');
  const inOrder = [
    'Lot L-2093 of part TF-4K7-1',
    'was connected',
    'cautions are kept',
    'The calibration of the meter was overridden',
    'The bench is good.',
    'Readings 1 and 2 of pieces 1 and 2: 1 pass, 1 fail low',
    'The bench is good.',
    'Accepted against the plan; R. Adeyemi answers for it as well: used at half its rating.',
    'The certificate was written: ',
    'It is: not accepted: the wrong lot was meant.',
    'The supplier was corrected from “Example Supply” to “Sample Supply”: a slip of the pen.',
    'The certificate was written anew, after what was changed: ',
  ];
  let from = 0;
  for (const words of inOrder) {
    const found = told.indexOf(words, from);
    expect(found, `${words}\nin\n${told}`).toBeGreaterThanOrEqual(from);
    from = found + words.length;
  }
  expect(told).not.toMatch(/undefined|null|NaN|\d{4}-\d\d-\d\dT/);
  await lookAtSizes(page, 'fate-5-story');
  await press('Escape');
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();
});

it('puts a lot on hold, goes on with it, and does not accept what its plan would accept', async (test) => {
  const data = await measured([GOOD, GOOD]);
  const { page, press } = await openRun(test, data);
  await page.getByRole('button', { name: 'Accept the lot' }).and(page.locator(':focus')).waitFor();
  await lookAtSizes(page, 'fate-6-accepted-by-plan');
  await tabTo(page, page.getByRole('radio', { name: 'Accept the lot' }), 'Shift+Tab');
  await press('ArrowDown');
  await tabTo(page, page.getByRole('textbox', { name: 'Reason' }));
  await page.keyboard.type('the buyer is asked');
  await press('Enter');
  await page.getByRole('heading', { name: 'Go on with this lot' }).waitFor();
  await lookAtSizes(page, 'fate-7-on-hold');
  await tabTo(page, page.getByRole('textbox', { name: 'Reason to lift the hold' }));
  await page.keyboard.type('the buyer agreed');
  await press('Enter');
  await page.getByRole('heading', { name: 'Decide the lot' }).waitFor();
  await tabTo(page, page.getByRole('radio', { name: 'Accept the lot' }), 'Shift+Tab');
  await press('ArrowDown', 'ArrowDown');
  await tabTo(page, page.getByRole('textbox', { name: 'Reason' }));
  await page.keyboard.type('bent leads');
  // Keys that come sooner after the screen than any hand are not taken for a decision.
  await page.waitForTimeout(1000);
  await press('Enter');
  await page.locator('.certify-fate .fate', { hasText: 'Not accepted' }).waitFor();
  await page.getByText('Not accepted although its plan would accept it.').waitFor();
  await page.getByText('Reason: bent leads.').waitFor();
  await look(page, 'fate-8-not-accepted-against-plan');
});
