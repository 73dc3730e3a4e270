import { readFileSync } from 'node:fs';
import { expect, it, onTestFinished } from 'vitest';
import { verifyContinuity } from '../../core/continuity/verifyContinuity.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { look } from '../chromium.ts';
import { tabTo } from '../keyboard.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { whatIsCut } from './fitsOnScreen.ts';

/** Invented: two wires and a breaker; the second wire is broken, and both plugs touch beside it. */
const CSV =
  'wire,from,to,expected,state\nW1,A1,B1,closed,\nW2,A2,B2,closed,\nQ1,L1,T1,closed,Q1 on\nQ1,L1,T1,open,Q1 off\n';

it('goes through a list from its rows to its certificate by the keyboard, reading by reading and hands-free', async (test) => {
  const server = await serveBenchOnTcp({
    host: '127.0.0.1',
    port: 0,
    scenario: {
      hands: { piecesPerSecond: 2 },
      wiring: {
        wires: [
          { from: 'A1', to: 'B1', ohms: 0.12 },
          { from: 'A2', to: 'B2', ohms: 0.1 },
          { from: 'L1', to: 'T1', ohms: 0.05, state: 'Q1 on' },
        ],
        faults: [
          { kind: 'broken', wire: 2 },
          { kind: 'crossed', from: 'A1', to: 'A2' },
        ],
      },
    },
  });
  onTestFinished(() => server.close());
  const data = temporaryFolder();
  const { page, press } = await openStation(test, 'light', data);
  await press('l');
  await page.getByRole('heading', { name: 'Continuity runs' }).waitFor();
  await page.getByLabel('What it is').and(page.locator(':focus')).waitFor();
  await page.keyboard.insertText('Door harness');
  await tabTo(page, page.getByLabel('Inspector'));
  await page.keyboard.insertText('Ines Okoro');
  // A list with faults first: each is named by row and column, and nothing is lost.
  await tabTo(page, page.getByLabel('Or typed'));
  await page.keyboard.insertText(`${CSV}W9,A1,,closed,\nW1,B1,A1,closed,\n`);
  await page.getByRole('status').filter({ hasText: '2 faults' }).waitFor();
  await look(page, 'wiring-1-list-with-faults');
  await page.keyboard.press('Control+a');
  await page.keyboard.insertText(CSV);
  await page.getByText('4 good points').waitFor();
  await look(page, 'wiring-2-list');
  await tabTo(page, page.getByRole('button', { name: /^Begin with 9 points/ }));
  await press('Enter');

  await page.getByRole('heading', { name: 'Connect the meter' }).waitFor();
  await page.getByLabel('Address of the meter').and(page.locator(':focus')).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.insertText(server.address);
  await press('Enter');
  await page.getByRole('heading', { name: 'Confirm the cautions' }).waitFor();
  await page.getByRole('checkbox').first().and(page.locator(':focus')).waitFor();
  await press('Enter');
  await page.getByRole('alert').filter({ hasText: '5 cautions are not confirmed' }).waitFor();
  for (let caution = 0; caution < 5; caution++) await press('Space', 'Tab');
  await look(page, 'wiring-3-cautions');
  await press('Enter');

  await page.getByRole('heading', { name: 'Check the leads' }).waitFor();
  await look(page, 'wiring-4-checks');
  for (const check of ['no voltage', 'leads open', 'leads shorted']) {
    await page
      .getByRole('button', { name: `Check: ${check}` })
      .and(page.locator(':focus'))
      .waitFor();
    await press('Enter');
  }
  await page.getByRole('heading', { name: 'Measure', exact: true }).waitFor();
  await page.getByRole('button', { name: 'Read this point' }).and(page.locator(':focus')).waitFor();
  await look(page, 'wiring-5-measure');
  // To be read from two metres: about a tenth of the screen's height.
  const height: number = await page.evaluate(
    "document.querySelector('.wiring-pair').getBoundingClientRect().height / innerHeight",
  );
  expect(height).toBeGreaterThan(0.09);
  await press('Enter');
  await page
    .getByRole('status')
    .filter({ hasText: /Point 1, A1 – B1: .*as expected/ })
    .waitFor();

  // From here on hands-free: the broken wire by its sign, then the breaker, switched twice, then what is connected across.
  await press('h');
  await page.getByRole('button', { name: 'Held there, nothing conducts' }).waitFor();
  await page.emulateMedia({ colorScheme: 'dark' });
  await look(page, 'wiring-6-hands-free');
  await page
    .getByRole('status')
    .filter({ hasText: /Point 2, A2 – B2: overload, not as expected: no connection/ })
    .waitFor();
  for (const state of ['Q1 on', 'Q1 off']) {
    await page.getByRole('button', { name: `It stands so: ${state}` }).waitFor();
    if (state === 'Q1 on') await look(page, 'wiring-7-switch');
    // Nobody sets a breaker sooner.
    await page.waitForTimeout(500);
    await press('Enter');
  }
  await page.getByRole('heading', { name: 'Check the leads' }).waitFor({ timeout: 60_000 });
  for (const check of ['no voltage', 'leads open', 'leads shorted']) {
    await page
      .getByRole('button', { name: `Check: ${check}` })
      .and(page.locator(':focus'))
      .waitFor();
    await press('Enter');
  }
  await page.getByRole('heading', { name: 'Decide', exact: true }).waitFor();
  await page.getByLabel('Decided by').and(page.locator(':focus')).waitFor();
  await look(page, 'wiring-8-decide');
  await page.emulateMedia({ colorScheme: 'light' });
  await press('Enter');
  await page.getByRole('heading', { name: 'Certify' }).waitFor();
  await page.getByRole('button', { name: 'Write the certificate' }).and(page.locator(':focus')).waitFor();
  await press('Enter');
  await page.getByRole('heading', { name: 'The file of the certificate' }).waitFor();
  await look(page, 'wiring-9-certificate');
  const matrix = page.getByRole('region', { name: 'Matrix' });
  await matrix.focus();
  await matrix.scrollIntoViewIfNeeded();
  await look(page, 'wiring-9-matrix');
  await matrix.getByText('A1 – A2: expected open, found closed, not as expected').waitFor({ state: 'attached' });
  expect(await page.getByText('Practice: no real piece').count()).toBeGreaterThan(0);

  const { runs } = { runs: readFileSync(`${data}/certificates/continuity-run-1-Door_harness.csv`) };
  const { record } = verifyContinuity(runs);
  expect(record.run.decided?.disposition).toBe('not-accepted');
  expect(record.run.readings.map(({ point, by, reason }) => `${point} ${by} ${reason ?? 'good'}`).toArray()).toEqual([
    '1 asked good',
    '2 sign no-connection',
    '3 contact good',
    '4 sign good',
    '5 contact cross-connection',
    '6 sign good',
    '7 sign good',
    '8 sign good',
    '9 sign good',
  ]);

  // Magnified to 200 % nothing is cut (WCAG 2.2, 1.4.4 and 1.4.10).
  await page.setViewportSize({ width: 640, height: 360 });
  await look(page, 'wiring-9-magnified');
  expect(await whatIsCut(page)).toEqual([]);
  await page.setViewportSize({ width: 1280, height: 720 });
  await page.getByRole('link', { name: 'Continuity run 1' }).click();
  await page.getByRole('heading', { name: 'Continuity runs' }).waitFor();
  await page.getByRole('row').filter({ hasText: 'Door harness' }).waitFor();
  await look(page, 'wiring-10-runs');
}, 240_000);
